//! The program: reads the command line and hands over to the library.

fn main() {}
