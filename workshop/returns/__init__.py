"""The returns desk, and the handing over of finished bats."""
