//! What can be typed at the command line, and its help.
