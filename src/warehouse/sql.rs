//! The statements that ship beside a data set.

/// Views over the tables `answers`, `findings` and `told`, in standard SQL.
pub const VIEWS: &str = include_str!("views.sql");
/// How `DuckDB` opens the tables.
pub const DUCKDB: &str = include_str!("open-duckdb.sql");
/// How `DataFusion` opens the tables.
pub const DATAFUSION: &str = include_str!("open-datafusion.sql");

/// The files, with the name that each has beside the data set.
pub const FILES: [(&str, &str); 3] = [
    ("marks.sql", VIEWS),
    ("open-duckdb.sql", DUCKDB),
    ("open-datafusion.sql", DATAFUSION),
];
