"""An aircraft profile: eye, hook and wheels; angle-of-attack bands; masses and more."""
