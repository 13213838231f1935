//! A part as mentioned in a line: its name, its kind and size where they are said.
//!
//! Source: SI Brochure, 9th edition (2019), table 7: centi is 1/100, milli 1/1000.

use crate::gears::mechanism;
use crate::gears::notation::LARGEST_COUNT;
use crate::gears::notation::text;
use crate::number;
use std::ops::Range;

/// The word for a kind of part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum KindWord {
    Gear,
    Ring,
    Bevel,
    Worm,
    Rack,
    Sprocket,
    Pulley,
    Handle,
    Drum,
    Roller,
    Motor,
    Dynamo,
    Carrier,
}

const KINDS: [(&str, KindWord); 13] = [
    ("gear", KindWord::Gear),
    ("ring", KindWord::Ring),
    ("bevel", KindWord::Bevel),
    ("worm", KindWord::Worm),
    ("rack", KindWord::Rack),
    ("sprocket", KindWord::Sprocket),
    ("pulley", KindWord::Pulley),
    ("handle", KindWord::Handle),
    ("drum", KindWord::Drum),
    ("roller", KindWord::Roller),
    ("motor", KindWord::Motor),
    ("dynamo", KindWord::Dynamo),
    ("carrier", KindWord::Carrier),
];

impl KindWord {
    /// The word itself.
    pub(crate) fn word(self) -> &'static str {
        KINDS
            .iter()
            .find(|(_, kind)| *kind == self)
            .map_or("part", |(word, _)| word)
    }

    /// The word of a part's kind.
    pub(crate) fn of(kind: &mechanism::Kind) -> Self {
        match kind {
            mechanism::Kind::Gear { .. } => Self::Gear,
            mechanism::Kind::Ring { .. } => Self::Ring,
            mechanism::Kind::Bevel { .. } => Self::Bevel,
            mechanism::Kind::Worm { .. } => Self::Worm,
            mechanism::Kind::Rack { .. } => Self::Rack,
            mechanism::Kind::Sprocket { .. } => Self::Sprocket,
            mechanism::Kind::Pulley { .. } => Self::Pulley,
            mechanism::Kind::Handle { .. } => Self::Handle,
            mechanism::Kind::Drum { .. } => Self::Drum,
            mechanism::Kind::Roller { .. } => Self::Roller,
            mechanism::Kind::Motor => Self::Motor,
            mechanism::Kind::Dynamo => Self::Dynamo,
            mechanism::Kind::Carrier => Self::Carrier,
        }
    }

    /// Whether its teeth have a tooth size (a sprocket's are made for a chain).
    pub(crate) fn has_tooth_size(self) -> bool {
        match self {
            Self::Gear | Self::Ring | Self::Bevel | Self::Worm | Self::Rack => true,
            Self::Sprocket
            | Self::Pulley
            | Self::Handle
            | Self::Drum
            | Self::Roller
            | Self::Motor
            | Self::Dynamo
            | Self::Carrier => false,
        }
    }
}

/// A size as said with a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Size {
    Count(mechanism::Count),
    Millimetres(number::Number),
    Side { above: bool },
}

/// A part as mentioned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Mention {
    pub(crate) name: String,
    pub(crate) span: Range<usize>,
    pub(crate) kind: Option<KindWord>,
    pub(crate) size: Option<Size>,
}

/// Whether a part may be mentioned with its size, or only named.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sizes {
    Read,
    Left,
}

/// The words for kinds of part.
pub(crate) fn kind_words() -> Vec<&'static str> {
    KINDS.iter().map(|(word, _)| *word).collect()
}

/// Reads the word of a kind if one comes next.
pub(crate) fn take_kind(cursor: &mut text::Cursor) -> Option<KindWord> {
    let (_, kind) = KINDS.iter().find(|(word, _)| cursor.is_at(word))?;
    cursor.step();
    Some(*kind)
}

/// Reads a name: one capital letter, digits after it.
pub(crate) fn name(cursor: &mut text::Cursor, wanted: &str) -> Result<String, text::Fault> {
    let Some(word) = cursor.word() else {
        return Err(cursor.wanted(wanted, &[]));
    };
    if text::is_name(word) {
        let name = word.to_owned();
        cursor.step();
        return Ok(name);
    }
    let upper = word.to_uppercase();
    let hint = if text::is_name(&upper) {
        format!("write it as a capital: {upper}")
    } else {
        "a name is one capital letter, with up to three digits after it, such as A or R2".to_owned()
    };
    let what = format!("found \"{word}\", wanted {wanted}");
    Err(text::Fault::new(cursor.place(), what, hint))
}

/// Reads a part: `gear A 12`, or only `A`.
pub(crate) fn mention(cursor: &mut text::Cursor, sizes: Sizes) -> Result<Mention, text::Fault> {
    let start = cursor.place();
    let kind = take_kind(cursor);
    if kind.is_none() && !cursor.word().is_some_and(text::is_name) {
        let wanted = "a part, such as \"gear A 12\", or the name of one";
        let plain = cursor.wanted(wanted, &kind_words());
        // A close kind word is a better guess than a name in small letters.
        if !plain.hint.is_empty() {
            return Err(plain);
        }
    }
    let wanted = kind.map_or(
        "a part, such as \"gear A 12\", or the name of one".to_owned(),
        |kind| format!("the name of the {}, such as A", kind.word()),
    );
    let name = name(cursor, &wanted)?;
    let size = match (kind, sizes) {
        (Some(kind), Sizes::Read) => size(cursor, kind)?,
        (Some(_) | None, Sizes::Read | Sizes::Left) => None,
    };
    Ok(Mention {
        name,
        span: cursor.since(&start),
        kind,
        size,
    })
}

fn size(cursor: &mut text::Cursor, kind: KindWord) -> Result<Option<Size>, text::Fault> {
    match kind {
        KindWord::Gear | KindWord::Ring | KindWord::Bevel | KindWord::Sprocket => {
            let count = count(cursor, "a number of teeth")?;
            if count.is_some() {
                cursor.take_one(&["teeth", "tooth"]);
            }
            Ok(count)
        }
        KindWord::Worm => {
            let count = count(cursor, "a number of starts")?;
            if count.is_some() {
                cursor.take_one(&["starts", "start"]);
            }
            Ok(count)
        }
        KindWord::Rack => Ok(cursor
            .take_one(&["below", "above"])
            .map(|side| Size::Side { above: side == 1 })),
        KindWord::Pulley | KindWord::Handle | KindWord::Drum | KindWord::Roller => {
            if cursor.is_at_amount() {
                Ok(Some(Size::Millimetres(length_mm(cursor, "a length")?)))
            } else {
                Ok(None)
            }
        }
        KindWord::Motor | KindWord::Dynamo | KindWord::Carrier => Ok(None),
    }
}

fn count(cursor: &mut text::Cursor, wanted: &str) -> Result<Option<Size>, text::Fault> {
    if cursor.take("?") {
        return Ok(Some(Size::Count(mechanism::Count::Unknown)));
    }
    if !cursor.is_at_amount() {
        return Ok(None);
    }
    let count = cursor.count(wanted, LARGEST_COUNT)?;
    Ok(Some(Size::Count(mechanism::Count::Known(count))))
}

/// Reads a number and a unit of length, as millimetres.
pub(crate) fn length_mm(
    cursor: &mut text::Cursor,
    wanted: &str,
) -> Result<number::Number, text::Fault> {
    let start = cursor.place();
    let length = cursor.number(wanted)?;
    let scale = length_unit(cursor)?;
    too_large(length.times(scale), cursor.since(&start))
}

/// Reads a unit of length; gives the millimetres in one.
pub(crate) fn length_unit(cursor: &mut text::Cursor) -> Result<number::Number, text::Fault> {
    const UNITS: [(&str, i64); 6] = [
        ("mm", 1),
        ("cm", 10),
        ("m", 1000),
        ("millimetres", 1),
        ("centimetres", 10),
        ("metres", 1000),
    ];
    let words = UNITS.map(|(word, _)| word);
    let Some(index) = cursor.take_one(&words) else {
        let fault = cursor.wanted("a unit: mm, cm or m", &words);
        return Err(fault);
    };
    let scale = UNITS.get(index).map_or(1, |(_, scale)| *scale);
    Ok(number::Number::whole(scale))
}

/// Turns a number that does not fit into a fault of the line.
pub(crate) fn too_large<T>(
    result: Result<T, number::NumberError>,
    span: Range<usize>,
) -> Result<T, text::Fault> {
    result.map_err(|error| text::Fault::new(span, error.to_string(), "use smaller numbers"))
}

/// Writes a part with its kind and size, as [`mention`] reads it.
pub(crate) fn written(name: &str, kind: &mechanism::Kind) -> String {
    let word = KindWord::of(kind).word();
    let size = match kind {
        mechanism::Kind::Gear { teeth }
        | mechanism::Kind::Ring { teeth }
        | mechanism::Kind::Bevel { teeth }
        | mechanism::Kind::Sprocket { teeth } => count_text(*teeth),
        mechanism::Kind::Worm { starts } => {
            let noun = if *starts == mechanism::Count::Known(1) {
                "start"
            } else {
                "starts"
            };
            format!("{} {noun}", count_text(*starts))
        }
        mechanism::Kind::Rack { above: true } => "above".to_owned(),
        mechanism::Kind::Pulley { diameter_mm }
        | mechanism::Kind::Drum { diameter_mm }
        | mechanism::Kind::Roller { diameter_mm } => format!("{} mm", number_text(*diameter_mm)),
        mechanism::Kind::Handle { arm_mm: Some(arm) } => format!("{} mm", number_text(*arm)),
        mechanism::Kind::Rack { above: false }
        | mechanism::Kind::Handle { arm_mm: None }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => String::new(),
    };
    if size.is_empty() {
        format!("{word} {name}")
    } else {
        format!("{word} {name} {size}")
    }
}

fn count_text(count: mechanism::Count) -> String {
    match count {
        mechanism::Count::Known(count) => count.to_string(),
        mechanism::Count::Unknown => "?".to_owned(),
    }
}

/// Writes a number exactly: as a decimal if it is short, else as a fraction.
pub(crate) fn number_text(number: number::Number) -> String {
    number
        .to_decimal()
        .filter(|text| text.split_once('.').is_none_or(|(_, part)| part.len() <= 6))
        .unwrap_or_else(|| number.to_string())
}
