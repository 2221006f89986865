"""One package a module: what its exercise draws, asks and accepts."""
