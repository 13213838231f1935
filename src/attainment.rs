//! What marks say of questions, pupils, classes and years.
