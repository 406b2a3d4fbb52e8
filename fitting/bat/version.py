"""The version of the model of the bat: it rises with every change that moves a figure of a weighing."""

MODEL_VERSION = "2"
