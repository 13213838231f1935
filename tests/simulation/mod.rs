//! A made-up class for trying the marker out: pupils with known beliefs do a
//! homework and write their answers as children do, so that what the marker says
//! can be held against the truth.

pub(crate) mod because;
pub(crate) mod classwork;
pub(crate) mod diagnosis;
pub(crate) mod hand;
pub(crate) mod homework;
pub(crate) mod larger;
pub(crate) mod nation;
pub(crate) mod pupil;
pub(crate) mod school;
