//! The solver against an independent reference: the same mechanisms as linear
//! equations, solved by a general numerical crate.
