//! One file a command: open, call, save, say.
