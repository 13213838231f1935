//! style
