"""What stands under everything that is shown, for every face alike."""

CAUTION = (
    "For simulation and training study. Real operations follow their own manuals, "
    "the ship's bulletins and licensed people."
)
