"""Where a size comes from: the compiler run once more on numbers that remember the sum they are made of."""
