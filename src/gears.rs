//! Mechanisms: parts, what joins them, exact motion, force and sizes, and what
//! is wrong with one.
//!
//! Takes a [`mechanism::Mechanism`] and an [`ask::Ask`]; gives an
//! [`ask::Fact`] with the [`step::Step`]s of a worked solution, or every
//! [`fault::Fault`]. Pure, exact, no words for people but the trade's names.

pub mod ask;
pub mod fault;
pub mod mechanism;
pub mod notation;
pub mod solve;
pub mod step;
