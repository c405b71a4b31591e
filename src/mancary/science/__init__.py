"""Pure functions of numbers: arrays in, arrays out, no disk, no net, no clock of their own."""
