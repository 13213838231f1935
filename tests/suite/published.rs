//! Published worked examples, each with its source.
