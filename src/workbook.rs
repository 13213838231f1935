//! Spreadsheets in and out.
