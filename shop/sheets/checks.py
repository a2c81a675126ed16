"""What is ticked off before the router runs. Common practice, no source; the maker's manual wins."""

BEFORE_THE_FIRST_LOAD = (
    "ears and eyes covered, dust pulled off",
    "bits sharp, clean and tight in the collet",
    "work held down, clamps clear of the bit's way",
    "height zeroed for the thickness written here",
    "blanks laid as drawn, grain along the dashed line",
    "somebody near it until it stands still",
)
