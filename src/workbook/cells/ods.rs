//! Open Document spreadsheets, streamed from their content part.
//!
//! Read here and not through a crate because this format holds, beside each
//! value, the text on the screen, which says what was typed (`2 1/2` for 2.5);
//! and so that declared repeats are held to the limits before room is made.

use super::Book;
use super::Cell;
use super::Content;
use super::Fault;
use super::Kind;
use super::Look;
use super::Rows;
use super::gather::Gatherer;
use super::gather::Tally;
use quick_xml::XmlVersion;
use quick_xml::events::BytesStart;
use quick_xml::events::Event;
use std::collections::BTreeMap;
use std::io::BufReader;
use std::io::Read;

/// Elements whose whole content is no cell: notes, drawings, old versions.
const LEFT_OUT: [&str; 7] = [
    "office:annotation",
    "table:shapes",
    "table:tracked-changes",
    "table:named-expressions",
    "office:forms",
    "draw:frame",
    "draw:custom-shape",
];

/// Returns the worksheets of an ods file.
pub(super) fn read(bytes: &[u8], rows: Rows) -> Result<Book, Fault> {
    let mut archive = super::archive::open(bytes)?;
    let part = archive
        .by_name("content.xml")
        .map_err(|error| super::archive::damaged(&error))?;
    let grids = Walk {
        reader: quick_xml::Reader::from_reader(BufReader::new(part)),
        buffer: Vec::new(),
    }
    .document(rows)?;
    Ok(Book {
        kind: Kind::Ods,
        grids,
    })
}

/// One pass over the content part.
struct Walk<R: Read> {
    reader: quick_xml::Reader<BufReader<R>>,
    buffer: Vec<u8>,
}

/// What the walk cares for.
enum Step {
    /// An element begins.
    Open(BytesStart<'static>),
    /// An element ends; its name.
    Close(String),
    /// Text.
    Text(String),
    /// The end of the part.
    End,
}

impl<R: Read> Walk<R> {
    fn document(mut self, rows: Rows) -> Result<Vec<super::Grid>, Fault> {
        let config = self.reader.config_mut();
        config.expand_empty_elements = true;
        let mut grids = Vec::new();
        let mut tally = Tally::new(rows);
        let mut hidden_styles: BTreeMap<String, bool> = BTreeMap::new();
        let mut style = String::new();
        loop {
            match self.step()? {
                Step::Open(element) => match element.name().as_ref() {
                    "style:style" => style = attribute(&element, "style:name")?,
                    "style:table-properties" => {
                        let hidden = attribute(&element, "table:display")? == "false";
                        hidden_styles.insert(style.clone(), hidden);
                    }
                    "table:table" => {
                        let name = attribute(&element, "table:name")?;
                        let style = attribute(&element, "table:style-name")?;
                        let hidden = hidden_styles.get(&style).copied().unwrap_or(false);
                        let mut gatherer = Gatherer::new(&name, !hidden, &mut tally);
                        self.table(&mut gatherer)?;
                        grids.push(gatherer.finish());
                    }
                    name if LEFT_OUT.contains(&name) => self.leave_out(name)?,
                    _ => {}
                },
                Step::Close(_) | Step::Text(_) => {}
                Step::End => return Ok(grids),
            }
        }
    }

    fn table(&mut self, gatherer: &mut Gatherer<'_>) -> Result<(), Fault> {
        let mut row: u32 = 0;
        loop {
            match self.step()? {
                Step::Open(element) => match element.name().as_ref() {
                    "table:table-row" => {
                        let repeats = repeats(&element, "table:number-rows-repeated")?;
                        let cells = self.row(row, gatherer)?;
                        if !cells.is_empty() {
                            for copy in 0..repeats {
                                for (column, cell) in &cells {
                                    gatherer.put(
                                        row.saturating_add(copy),
                                        *column,
                                        cell.clone(),
                                    )?;
                                }
                            }
                        }
                        row = row.saturating_add(repeats);
                    }
                    name if LEFT_OUT.contains(&name) => self.leave_out(name)?,
                    _ => {}
                },
                Step::Close(name) if name == "table:table" => return Ok(()),
                Step::Close(_) | Step::Text(_) => {}
                Step::End => return Err(cut_off()),
            }
        }
    }

    /// Returns the cells of a row that hold something.
    fn row(&mut self, row: u32, gatherer: &Gatherer<'_>) -> Result<Vec<(u32, Cell)>, Fault> {
        let mut cells: Vec<(u32, Cell)> = Vec::new();
        let mut column: u32 = 0;
        loop {
            match self.step()? {
                Step::Open(element) => {
                    let name = element.name().as_ref().to_owned();
                    if name != "table:table-cell" && name != "table:covered-table-cell" {
                        self.leave_out(&name)?;
                        continue;
                    }
                    let repeats = repeats(&element, "table:number-columns-repeated")?;
                    let place = gatherer.place(row, column);
                    let text = self.cell_text(&name, &place)?;
                    if let Some(cell) = cell(&element, text)? {
                        for copy in 0..repeats {
                            let column = column.saturating_add(copy);
                            if column >= super::MOST_COLUMNS {
                                return Err(Fault::TooLarge {
                                    what: format!(
                                        "cell {} holds something",
                                        gatherer.place(row, column)
                                    ),
                                    limit: format!("{} columns", super::MOST_COLUMNS),
                                });
                            }
                            cells.push((column, cell.clone()));
                        }
                    }
                    column = column.saturating_add(repeats);
                }
                Step::Close(_) => return Ok(cells),
                Step::Text(_) => {}
                Step::End => return Err(cut_off()),
            }
        }
    }

    /// Returns the text on the screen of a cell, with a line break between paragraphs.
    fn cell_text(&mut self, cell: &str, place: &str) -> Result<String, Fault> {
        let mut text = String::new();
        let mut paragraphs = 0;
        let mut in_paragraph = false;
        loop {
            match self.step()? {
                Step::Open(element) => match element.name().as_ref() {
                    "text:p" => {
                        paragraphs += 1;
                        in_paragraph = true;
                        if paragraphs > 1 {
                            text.push('\n');
                        }
                    }
                    "text:s" => {
                        let spaces = repeats(&element, "text:c")?;
                        let spaces = usize::try_from(spaces).unwrap_or(usize::MAX);
                        text.push_str(&" ".repeat(spaces.min(super::MOST_CHARACTERS)));
                    }
                    "text:tab" => text.push('\t'),
                    "text:line-break" => text.push('\n'),
                    name if LEFT_OUT.contains(&name) => self.leave_out(name)?,
                    _ => {}
                },
                Step::Close(name) if name == cell => return Ok(text),
                Step::Close(name) if name == "text:p" => in_paragraph = false,
                Step::Text(piece) if in_paragraph => text.push_str(&piece),
                // Between paragraphs there is only the indentation of the file.
                Step::Close(_) | Step::Text(_) => {}
                Step::End => return Err(cut_off()),
            }
            // Four bytes a character at the most: what is longer is refused before it is
            // copied into every cell that it is declared for.
            if text.len() > super::MOST_CHARACTERS.saturating_mul(4) {
                return Err(Fault::TooLarge {
                    what: format!("cell {place} holds a long text"),
                    limit: format!("{} characters in a cell", super::MOST_CHARACTERS),
                });
            }
        }
    }

    /// Passes over everything up to the end of an element already begun.
    fn leave_out(&mut self, name: &str) -> Result<(), Fault> {
        let mut depth = 1;
        while depth > 0 {
            match self.step()? {
                Step::Open(element) if element.name().as_ref() == name => depth += 1,
                Step::Close(closed) if closed == name => depth -= 1,
                Step::Open(_) | Step::Close(_) | Step::Text(_) => {}
                Step::End => return Err(cut_off()),
            }
        }
        Ok(())
    }

    fn step(&mut self) -> Result<Step, Fault> {
        loop {
            self.buffer.clear();
            let event = self
                .reader
                .read_event_into(&mut self.buffer)
                .map_err(|error| super::archive::damaged(&error))?;
            return Ok(match event {
                Event::Start(element) | Event::Empty(element) => Step::Open(element.into_owned()),
                Event::End(element) => Step::Close(element.name().as_ref().to_owned()),
                Event::Text(text) => Step::Text(text.xml10_content().into_owned()),
                Event::CData(text) => Step::Text(text.xml10_content().into_owned()),
                Event::GeneralRef(reference) => {
                    let named = quick_xml::escape::resolve_predefined_entity(&reference)
                        .map(ToOwned::to_owned);
                    let sign = reference
                        .resolve_char_ref()
                        .map_err(|error| super::archive::damaged(&error))?;
                    Step::Text(
                        sign.map(String::from)
                            .or(named)
                            .unwrap_or_else(|| format!("&{};", &*reference)),
                    )
                }
                Event::Comment(_) | Event::Decl(_) | Event::PI(_) => continue,
                Event::DocType(_) => {
                    return Err(Fault::Damaged {
                        detail: "its content declares a document type".to_owned(),
                    });
                }
                Event::Eof => Step::End,
            });
        }
    }
}

/// Returns the cell for its element and the text on the screen; none when it holds nothing.
fn cell(element: &BytesStart<'_>, text: String) -> Result<Option<Cell>, Fault> {
    let kind = attribute(element, "office:value-type")?;
    let is_fault = attribute(element, "calcext:value-type")? == "error";
    let formula = attribute(element, "table:formula")?;
    let formula = without_prefix(&formula);
    let number = || -> Result<Content, Fault> {
        let value: f64 =
            attribute(element, "office:value")?
                .parse()
                .map_err(|_| Fault::Damaged {
                    detail: "a number cell holds no number".to_owned(),
                })?;
        Ok(Content::Number(super::number_text(value)))
    };
    let content = if is_fault {
        Content::Fault(text.clone())
    } else {
        match kind.as_str() {
            "float" | "percentage" | "currency" => number()?,
            "time" => super::iso(&attribute(element, "office:time-value")?),
            "date" => super::iso(&attribute(element, "office:date-value")?),
            "boolean" => Content::Truth(
                attribute(element, "office:boolean-value")?.eq_ignore_ascii_case("true"),
            ),
            _ if text.is_empty() && !formula.is_empty() => Content::Uncalculated,
            _ => {
                let value = attribute(element, "office:string-value")?;
                Content::Text(if value.is_empty() {
                    text.clone()
                } else {
                    value
                })
            }
        }
    };
    let is_text = matches!(content, Content::Text(_) | Content::Fault(_));
    if matches!(&content, Content::Text(text) if text.is_empty()) {
        return Ok(None);
    }
    let look = Look {
        format: String::new(),
        shown: if is_text { String::new() } else { text },
        formula: formula.to_owned(),
    };
    // A plain number on the screen tells nothing more.
    let tells = match &content {
        Content::Number(value) => *value != look.shown || !look.formula.is_empty(),
        Content::Text(_) | Content::Fault(_) => !look.formula.is_empty(),
        Content::Time { .. } | Content::Date { .. } | Content::Truth(_) | Content::Uncalculated => {
            true
        }
    };
    Ok(Some(Cell {
        content,
        look: tells.then(|| Box::new(look)),
    }))
}

/// Returns a formula without the prefix that names its language.
fn without_prefix(formula: &str) -> &str {
    let bare = ["of:", "oooc:", "msoxl:"]
        .iter()
        .find_map(|prefix| formula.strip_prefix(prefix))
        .unwrap_or(formula);
    bare.strip_prefix('=').unwrap_or(bare)
}

fn repeats(element: &BytesStart<'_>, name: &str) -> Result<u32, Fault> {
    let text = attribute(element, name)?;
    if text.is_empty() {
        return Ok(1);
    }
    // More than fits is more than any limit.
    Ok(text.parse().unwrap_or(u32::MAX))
}

/// Returns the value of an attribute, or an empty text.
fn attribute(element: &BytesStart<'_>, name: &str) -> Result<String, Fault> {
    let Some(found) = element
        .try_get_attribute(name)
        .map_err(|error| super::archive::damaged(&error))?
    else {
        return Ok(String::new());
    };
    Ok(found
        .normalized_value(XmlVersion::Implicit1_0)
        .map_err(|error| super::archive::damaged(&error))?
        .into_owned())
}

fn cut_off() -> Fault {
    Fault::Damaged {
        detail: "its content breaks off".to_owned(),
    }
}
