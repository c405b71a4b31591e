"""One module for each thing a keeper does. The open book comes in, a frozen answer goes out."""
