//! Columns as they wait in memory to be written, a group of rows at a time.
//!
//! A text that comes again is kept once; so a column of a hundred thousand rows is a
//! column of small numbers.

use parquet::basic::LogicalType;
use parquet::basic::Repetition;
use parquet::basic::Type as Physical;
use parquet::data_type::BoolType;
use parquet::data_type::ByteArray;
use parquet::data_type::ByteArrayType;
use parquet::data_type::DataType;
use parquet::data_type::Int32Type;
use parquet::errors::ParquetError;
use parquet::errors::Result;
use parquet::file::writer::SerializedRowGroupWriter;
use parquet::schema::types::Type;
use std::collections::BTreeMap;
use std::io::Write;
use std::sync::Arc;

/// Where a file's bytes go.
pub(super) type Out = Box<dyn Write + Send>;

/// One column, or the columns of one list.
pub(super) trait Column {
    /// Returns its type under a name.
    fn shape(&self, name: &str) -> Result<Type>;

    /// Writes what waits.
    fn write(&self, group: &mut SerializedRowGroupWriter<'_, Out>) -> Result<()>;
}

/// Texts, each kept once.
#[derive(Debug, Default)]
struct Once {
    numbers: BTreeMap<Arc<str>, u32>,
    texts: Vec<(Arc<str>, ByteArray)>,
    last: u32,
}

/// A text in each row, or none.
#[derive(Debug, Default)]
pub(super) struct Texts {
    once: Once,
    rows: Vec<Option<u32>>,
}

/// A number in each row.
#[derive(Debug, Default)]
pub(super) struct Numbers(Vec<i32>);

/// Yes or no in each row.
#[derive(Debug, Default)]
pub(super) struct Truths(Vec<bool>);

/// A day in each row, or none.
#[derive(Debug, Default)]
pub(super) struct Days(Vec<Option<i32>>);

/// A list of texts in each row.
#[derive(Debug, Default)]
pub(super) struct Lists {
    once: Once,
    values: Vec<u32>,
    levels: Levels,
}

/// Texts under headings in each row.
#[derive(Debug, Default)]
pub(super) struct Maps {
    once: Once,
    keys: Vec<u32>,
    values: Vec<u32>,
    levels: Levels,
}

/// Which values stand in which row's list: definition and repetition levels.
#[derive(Debug, Default)]
struct Levels {
    defined: Vec<i16>,
    repeated: Vec<i16>,
}

impl Once {
    /// Returns the number of a text.
    fn number(&mut self, text: &str) -> u32 {
        // Most answers of a sheet have most of their columns in common.
        if self
            .texts
            .get(place(self.last))
            .is_some_and(|last| *last.0 == *text)
        {
            return self.last;
        }
        if let Some(number) = self.numbers.get(text) {
            self.last = *number;
            return self.last;
        }
        let number = u32::try_from(self.texts.len());
        self.last = number.expect("a group of rows has fewer texts");
        let kept: Arc<str> = text.into();
        let bytes = ByteArray::from(text.as_bytes().to_vec());
        self.texts.push((Arc::clone(&kept), bytes));
        self.numbers.insert(kept, self.last);
        self.last
    }

    /// Returns the texts of numbers.
    fn bytes<'a>(&self, numbers: impl IntoIterator<Item = &'a u32>) -> Vec<ByteArray> {
        let numbers = numbers.into_iter();
        numbers.map(|it| self.texts[place(*it)].1.clone()).collect()
    }
}

impl Texts {
    pub(super) fn push(&mut self, text: &str) {
        let number = self.once.number(text);
        self.rows.push(Some(number));
    }

    pub(super) fn push_maybe(&mut self, text: Option<&str>) {
        match text {
            Some(text) => self.push(text),
            None => self.rows.push(None),
        }
    }
}

impl Column for Texts {
    fn shape(&self, name: &str) -> Result<Type> {
        text(name, Repetition::OPTIONAL)
    }

    fn write(&self, group: &mut SerializedRowGroupWriter<'_, Out>) -> Result<()> {
        let values = self.once.bytes(self.rows.iter().flatten());
        let defined = defined(&self.rows);
        put::<ByteArrayType>(group, &values, Some(&defined), None)
    }
}

impl Numbers {
    pub(super) fn push(&mut self, number: i32) {
        self.0.push(number);
    }

    /// Adds a count; one too great to write is written as the greatest.
    pub(super) fn push_count(&mut self, count: u32) {
        self.0.push(i32::try_from(count).unwrap_or(i32::MAX));
    }
}

impl Column for Numbers {
    fn shape(&self, name: &str) -> Result<Type> {
        let builder = Type::primitive_type_builder(name, Physical::INT32);
        builder.with_repetition(Repetition::REQUIRED).build()
    }

    fn write(&self, group: &mut SerializedRowGroupWriter<'_, Out>) -> Result<()> {
        put::<Int32Type>(group, &self.0, None, None)
    }
}

impl Truths {
    pub(super) fn push(&mut self, is_so: bool) {
        self.0.push(is_so);
    }
}

impl Column for Truths {
    fn shape(&self, name: &str) -> Result<Type> {
        let builder = Type::primitive_type_builder(name, Physical::BOOLEAN);
        builder.with_repetition(Repetition::REQUIRED).build()
    }

    fn write(&self, group: &mut SerializedRowGroupWriter<'_, Out>) -> Result<()> {
        put::<BoolType>(group, &self.0, None, None)
    }
}

impl Days {
    /// Adds a day by its distance from 1 January 1970.
    pub(super) fn push(&mut self, day: Option<i32>) {
        self.0.push(day);
    }
}

impl Column for Days {
    fn shape(&self, name: &str) -> Result<Type> {
        Type::primitive_type_builder(name, Physical::INT32)
            .with_logical_type(Some(LogicalType::Date))
            .with_repetition(Repetition::OPTIONAL)
            .build()
    }

    fn write(&self, group: &mut SerializedRowGroupWriter<'_, Out>) -> Result<()> {
        let values: Vec<i32> = self.0.iter().flatten().copied().collect();
        put::<Int32Type>(group, &values, Some(&defined(&self.0)), None)
    }
}

impl Levels {
    /// Notes a row with so many values.
    fn push(&mut self, values: usize) {
        self.defined.push(i16::from(values > 0));
        self.repeated.push(0);
        for _ in 1..values {
            self.defined.push(1);
            self.repeated.push(1);
        }
    }
}

impl Lists {
    pub(super) fn push(&mut self, texts: &[String]) {
        self.levels.push(texts.len());
        for text in texts {
            self.values.push(self.once.number(text));
        }
    }
}

impl Column for Lists {
    fn shape(&self, name: &str) -> Result<Type> {
        let element = text("element", Repetition::REQUIRED)?;
        nested(name, LogicalType::List, "list", vec![element])
    }

    fn write(&self, group: &mut SerializedRowGroupWriter<'_, Out>) -> Result<()> {
        let values = self.once.bytes(&self.values);
        let (defined, repeated) = (&self.levels.defined, &self.levels.repeated);
        put::<ByteArrayType>(group, &values, Some(defined), Some(repeated))
    }
}

impl Maps {
    pub(super) fn push(&mut self, texts: &BTreeMap<String, String>) {
        self.levels.push(texts.len());
        for (key, value) in texts {
            self.keys.push(self.once.number(key));
            self.values.push(self.once.number(value));
        }
    }
}

impl Column for Maps {
    fn shape(&self, name: &str) -> Result<Type> {
        let key = text("key", Repetition::REQUIRED)?;
        let value = text("value", Repetition::REQUIRED)?;
        nested(name, LogicalType::Map, "key_value", vec![key, value])
    }

    fn write(&self, group: &mut SerializedRowGroupWriter<'_, Out>) -> Result<()> {
        let (defined, repeated) = (&self.levels.defined, &self.levels.repeated);
        for numbers in [&self.keys, &self.values] {
            let values = self.once.bytes(numbers);
            put::<ByteArrayType>(group, &values, Some(defined), Some(repeated))?;
        }
        Ok(())
    }
}

/// The type of a text.
fn text(name: &str, repetition: Repetition) -> Result<Type> {
    Type::primitive_type_builder(name, Physical::BYTE_ARRAY)
        .with_logical_type(Some(LogicalType::String))
        .with_repetition(repetition)
        .build()
}

/// The type of a list or map, in the three steps that the format asks for.
fn nested(name: &str, kind: LogicalType, inner: &str, fields: Vec<Type>) -> Result<Type> {
    let fields = fields.into_iter().map(Arc::new).collect();
    let repeated = Type::group_type_builder(inner)
        .with_repetition(Repetition::REPEATED)
        .with_fields(fields)
        .build()?;
    Type::group_type_builder(name)
        .with_logical_type(Some(kind))
        .with_repetition(Repetition::REQUIRED)
        .with_fields(vec![Arc::new(repeated)])
        .build()
}

/// The definition levels of a column in which some rows are empty.
fn defined<T>(rows: &[Option<T>]) -> Vec<i16> {
    rows.iter().map(|row| i16::from(row.is_some())).collect()
}

/// Writes the next column of a group.
fn put<T: DataType>(
    group: &mut SerializedRowGroupWriter<'_, Out>,
    values: &[T::T],
    defined: Option<&[i16]>,
    repeated: Option<&[i16]>,
) -> Result<()> {
    let column = group.next_column()?;
    let mut column = column.ok_or_else(|| ParquetError::General("no column is left".to_owned()))?;
    column.typed::<T>().write_batch(values, defined, repeated)?;
    column.close()
}

/// A number as a place in a list.
fn place(number: u32) -> usize {
    usize::try_from(number).expect("lists of this length fit into memory")
}
