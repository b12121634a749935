"""Finding passes in a track and measuring them in deck axes."""
