//! Mechanisms, answers and steps of a working said in plain English.
