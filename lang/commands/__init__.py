"""The commands of `dryfit`, a file each: `run(arguments, terminal)` gives the exit code."""
