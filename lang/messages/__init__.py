"""The words of every finding, a file per stage."""
