"""Part of Dryfit."""
