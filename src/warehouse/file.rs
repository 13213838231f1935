//! One Parquet file, written a group of rows at a time.

use crate::date;
use crate::retention;
use crate::warehouse::FORMAT;
use crate::warehouse::columns;
use parquet::basic::Compression;
use parquet::basic::Repetition;
use parquet::errors::ParquetError;
use parquet::file::properties::WriterProperties;
use parquet::file::writer::SerializedFileWriter;
use parquet::format::KeyValue;
use parquet::schema::types::Type;
use std::fmt;
use std::io::Write;
use std::sync::Arc;

/// Rows that wait in memory before they are written. Engines share a file out by its
/// groups, so few and great ones keep cores idle; many small ones cost bytes.
pub const ROWS_IN_A_GROUP: usize = 65_536;

/// A file that could not be written, and why.
#[derive(Debug)]
pub struct Unwritten(ParquetError);

impl fmt::Display for Unwritten {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(formatter)
    }
}

impl std::error::Error for Unwritten {}

impl From<ParquetError> for Unwritten {
    fn from(error: ParquetError) -> Self {
        Self(error)
    }
}

/// The rows of a table as they wait.
pub(super) trait Rows: Default {
    /// What the table is called inside the file.
    const TABLE: &'static str;

    /// Returns every column with its name, in order.
    fn columns(&self) -> Vec<(&'static str, &dyn columns::Column)>;
}

/// A file that is being written.
pub(super) struct File<R> {
    writer: SerializedFileWriter<columns::Out>,
    waiting: R,
    rows: usize,
    kept_until: Option<date::Date>,
}

impl<R: Rows> File<R> {
    /// Begins a file.
    pub(super) fn begin(out: impl Write + Send + 'static) -> Result<Self, Unwritten> {
        let waiting = R::default();
        let fields: Result<Vec<_>, ParquetError> = waiting
            .columns()
            .into_iter()
            .map(|(name, column)| column.shape(name).map(Arc::new))
            .collect();
        let schema = Type::group_type_builder(R::TABLE)
            .with_repetition(Repetition::REQUIRED)
            .with_fields(fields?)
            .build()?;
        let said = [
            ("toothmark.format", FORMAT.to_string()),
            ("toothmark.version", env!("CARGO_PKG_VERSION").to_owned()),
            ("toothmark.table", R::TABLE.to_owned()),
            (
                "toothmark.for",
                "the school's or trust's own warehouse only: it is about single pupils".to_owned(),
            ),
        ];
        let said = said.map(|(key, value)| KeyValue::new(key.to_owned(), value));
        let properties = WriterProperties::builder()
            .set_compression(Compression::SNAPPY)
            .set_created_by(format!("toothmark {}", env!("CARGO_PKG_VERSION")))
            .set_key_value_metadata(Some(said.to_vec()))
            .build();
        let out: columns::Out = Box::new(out);
        Ok(Self {
            writer: SerializedFileWriter::new(out, Arc::new(schema), Arc::new(properties))?,
            waiting,
            rows: 0,
            kept_until: None,
        })
    }

    /// Adds a row with `push`, which gives every column one value.
    pub(super) fn add(&mut self, push: impl FnOnce(&mut R)) -> Result<(), Unwritten> {
        push(&mut self.waiting);
        self.rows += 1;
        if self.rows >= ROWS_IN_A_GROUP {
            self.write()?;
        }
        Ok(())
    }

    /// Notes until when something in the file may be kept: the latest day holds for it.
    pub(super) fn keep(&mut self, until: Option<date::Date>) {
        self.kept_until = self.kept_until.max(until);
    }

    /// Writes what waits, and the end of the file.
    pub(super) fn finish(mut self) -> Result<(), Unwritten> {
        if self.rows > 0 {
            self.write()?;
        }
        for (key, value) in [
            ("toothmark.keep_until", retention::cell(self.kept_until)),
            ("toothmark.keep", retention::sentence(self.kept_until)),
        ] {
            let said = KeyValue::new(key.to_owned(), value);
            self.writer.append_key_value_metadata(said);
        }
        self.writer.close()?;
        Ok(())
    }

    fn write(&mut self) -> Result<(), Unwritten> {
        let waiting = std::mem::take(&mut self.waiting);
        self.rows = 0;
        let mut group = self.writer.next_row_group()?;
        for (_, column) in waiting.columns() {
            column.write(&mut group)?;
        }
        group.close()?;
        Ok(())
    }
}
