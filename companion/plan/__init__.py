"""Plan files and what they describe: reading, checking, writing back."""
