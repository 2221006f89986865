"""The class: roster, handing out, taking in, grading, giving back."""
