//! The typesetter: a template and its data in, pages and then a PDF out.
//!
//! The templates are fixed; the data reaches them as one JSON file of a world
//! that holds nothing else. No file of the machine, no package and no clock can
//! be reached from a template.

use crate::paper;
use crate::paper::clean;
use crate::paper::fonts;
use serde::Serialize;
use std::sync::LazyLock;
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

/// What the file says made it. Fixed, so that equal pages are equal bytes.
const CREATOR: &str = "Toothmark";

/// Which document.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Template {
    /// The pupils' sheets.
    Sheets,
    /// The mark scheme.
    MarkScheme,
    /// Task cards for pupils.
    Cards,
    /// The same cards with their answers.
    TeacherCards,
    /// Feedback to a class and its pupils.
    Feedback,
    /// One drawing by itself.
    Drawing,
}

/// What makes a file recognisable and the same every time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Stamp {
    /// Names the document; only its hash is written.
    pub(super) ident: String,
    /// The date of making, ISO 8601.
    pub(super) date: String,
}

/// Pages ready to be exported.
pub(super) struct Pages(PagedDocument);

impl Template {
    /// The template's own text.
    fn text(self) -> &'static str {
        match self {
            Self::Sheets => include_str!("sheets.typ"),
            Self::MarkScheme => include_str!("mark-scheme.typ"),
            Self::Cards => include_str!("cards.typ"),
            Self::TeacherCards => include_str!("teacher-cards.typ"),
            Self::Feedback => include_str!("notes.typ"),
            Self::Drawing => include_str!("drawing.typ"),
        }
    }
}

/// Returns the pages that a template makes of its data and of drawings: SVG files one
/// after the other, each found by its place.
pub(super) fn lay_out(
    template: Template,
    data: &impl Serialize,
    drawings: Vec<u8>,
) -> Result<Pages, paper::PaperError> {
    let value = serde_json::to_value(data).expect("the data are texts, numbers and lists");
    let json = clean::data(value).to_string();
    let room = Room {
        main: Source::new(NAMES.main, template.text().to_owned()),
        data: Bytes::from_string(json),
        drawings: Bytes::new(drawings),
    };
    let laid_out = typst::compile::<PagedDocument>(&room);
    // What was remembered for this document is of no use to the next one.
    comemo::evict(0);
    laid_out
        .output
        .map(Pages)
        .map_err(|faults| refused(&faults))
}

/// Returns the pages as a tagged PDF (PDF/UA-1).
pub(super) fn export(pages: &Pages, stamp: &Stamp) -> Result<Vec<u8>, paper::PaperError> {
    let standards =
        PdfStandards::new(&[PdfStandard::Ua_1]).expect("one standard does not contradict itself");
    let options = PdfOptions {
        ident: Smart::Custom(stamp.ident.clone()),
        creator: Smart::Custom(Some(CREATOR.to_owned())),
        timestamp: date(&stamp.date).map(Timestamp::new_utc),
        page_ranges: None,
        standards,
        tagged: true,
        pretty: false,
    };
    let exported = typst_pdf::pdf(&pages.0, &options);
    comemo::evict(0);
    exported.map_err(|faults| refused(&faults))
}

/// Returns the date of `2026-03-09`, or nothing where it is no date.
fn date(iso: &str) -> Option<Datetime> {
    let mut parts = iso.split('-');
    let year = parts.next()?.parse().ok()?;
    let month = parts.next()?.parse().ok()?;
    let day = parts.next()?.parse().ok()?;
    Datetime::from_ymd_hms(year, month, day, 0, 0, 0)
}

/// What the typesetter said, for a person.
fn refused(faults: &[SourceDiagnostic]) -> paper::PaperError {
    paper::PaperError::Typesetting(
        faults
            .iter()
            .map(|fault| fault.message.to_string())
            .collect(),
    )
}

/// The names of the files in the room. They are kept for ever by the
/// typesetter, so there are only ever these.
struct Names {
    main: FileId,
    style: FileId,
    space: FileId,
    data: FileId,
    drawings: FileId,
}

static NAMES: LazyLock<Names> = LazyLock::new(|| {
    let name = |path: &str| {
        let path = VirtualPath::new(path).expect("a plain file name is a path");
        FileId::new(RootedPath::new(VirtualRoot::Project, path))
    };
    Names {
        main: name("/main.typ"),
        style: name("/style.typ"),
        space: name("/space.typ"),
        data: name("/data.json"),
        drawings: name("/drawings.svg"),
    }
});

static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| LazyHash::new(Library::default()));

/// All that a template can see: itself, the shared style, its data, its drawings.
struct Room {
    main: Source,
    data: Bytes,
    drawings: Bytes,
}

impl World for Room {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &fonts::faces().book
    }

    fn main(&self) -> FileId {
        NAMES.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == NAMES.main {
            Ok(self.main.clone())
        } else if id == NAMES.style {
            Ok(Source::new(id, include_str!("style.typ").to_owned()))
        } else if id == NAMES.space {
            Ok(Source::new(id, include_str!("space.typ").to_owned()))
        } else {
            Err(FileError::AccessDenied)
        }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if id == NAMES.data {
            Ok(self.data.clone())
        } else if id == NAMES.drawings {
            Ok(self.drawings.clone())
        } else {
            Err(FileError::AccessDenied)
        }
    }

    fn font(&self, index: usize) -> Option<Font> {
        fonts::faces().fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}

#[cfg(test)]
impl Pages {
    /// The width and height of each page, in whole millimetres.
    pub(super) fn sizes_mm(&self) -> Vec<(f64, f64)> {
        let pages = self.0.pages().iter();
        pages
            .map(|page| {
                let size = page.frame.size();
                (size.x.to_mm().round(), size.y.to_mm().round())
            })
            .collect()
    }

    /// Whether there is a colour behind each page.
    pub(super) fn tinted(&self) -> Vec<bool> {
        let pages = self.0.pages().iter();
        pages
            .map(|page| matches!(page.fill, Smart::Custom(Some(_))))
            .collect()
    }

    /// The smallest type on any page, in points; drawings are not looked into.
    pub(super) fn smallest_type(&self) -> f64 {
        let pages = self.0.pages().iter();
        pages
            .map(|page| smallest_type(&page.frame))
            .fold(f64::INFINITY, f64::min)
    }

    /// The text of each page, a line for each line of type, as it was set.
    pub(super) fn lines(&self) -> Vec<Vec<String>> {
        self.0
            .pages()
            .iter()
            .map(|page| {
                let mut lines = Vec::new();
                collect_lines(&page.frame, 0.0, &mut lines);
                let words = |line: String| line.split_whitespace().collect::<Vec<_>>().join(" ");
                lines.into_iter().map(|(_, line)| words(line)).collect()
            })
            .collect()
    }
}

/// Gathers the runs of type that stand at one height, one after the other.
#[cfg(test)]
fn collect_lines(frame: &typst::layout::Frame, top: f64, lines: &mut Vec<(f64, String)>) {
    use typst::layout::FrameItem;
    for (place, item) in frame.items() {
        let height = top + place.y.to_pt();
        match item {
            FrameItem::Group(group) => collect_lines(&group.frame, height, lines),
            FrameItem::Text(text) => match lines.last_mut() {
                Some((last, line)) if (*last - height).abs() < 0.5 => {
                    line.push(' ');
                    line.push_str(&text.text);
                }
                Some(_) | None => lines.push((height, text.text.to_string())),
            },
            FrameItem::Shape(..)
            | FrameItem::Image(..)
            | FrameItem::Link(..)
            | FrameItem::Tag(_) => {}
        }
    }
}

/// The smallest type in a frame.
#[cfg(test)]
fn smallest_type(frame: &typst::layout::Frame) -> f64 {
    use typst::layout::FrameItem;
    let sizes = frame.items().map(|(_, item)| match item {
        FrameItem::Group(group) => smallest_type(&group.frame),
        FrameItem::Text(text) => text.size.to_pt(),
        FrameItem::Shape(..) | FrameItem::Image(..) | FrameItem::Link(..) | FrameItem::Tag(_) => {
            f64::INFINITY
        }
    });
    sizes.fold(f64::INFINITY, f64::min)
}
