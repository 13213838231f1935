//! Mechanisms: parts, what joins them, exact motion, force and sizes, and what
//! is wrong with one.
//!
//! Takes a [`mechanism::Mechanism`] and an [`ask::Ask`]; gives an
//! [`ask::Fact`] with the [`step::Step`]s of a worked solution, or every
//! [`fault::Fault`]. Pure, exact, no words for people but the trade's names.

pub mod ask;
mod choose;
mod coupling;
pub mod fault;
mod follow;
mod force;
mod givens;
pub mod idea;
mod measured;
pub mod mechanism;
mod motion;
mod moving;
pub mod notation;
mod planetary;
mod reasons;
mod role;
mod size;
pub mod solve;
pub mod step;
pub mod turning;
mod unknown;
pub mod vary;
mod walk;
mod whole;
mod working;
