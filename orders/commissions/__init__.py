"""The commission and its bat: lifecycle, proposals, stages, readings."""
