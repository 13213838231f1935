//! What was said of a part, made into its kind; what is missing from it.

use crate::gears::mechanism;
use crate::gears::notation::part;

/// Returns the kind with its size, if the size is there or not needed.
pub(crate) fn kind(word: part::KindWord, size: Option<part::Size>) -> Option<mechanism::Kind> {
    let count = match size {
        Some(part::Size::Count(count)) => Some(count),
        Some(part::Size::Millimetres(_) | part::Size::Side { .. }) | None => None,
    };
    let length = match size {
        Some(part::Size::Millimetres(length)) => Some(length),
        Some(part::Size::Count(_) | part::Size::Side { .. }) | None => None,
    };
    Some(match word {
        part::KindWord::Gear => mechanism::Kind::Gear { teeth: count? },
        part::KindWord::Ring => mechanism::Kind::Ring { teeth: count? },
        part::KindWord::Bevel => mechanism::Kind::Bevel { teeth: count? },
        part::KindWord::Worm => mechanism::Kind::Worm { starts: count? },
        part::KindWord::Sprocket => mechanism::Kind::Sprocket { teeth: count? },
        part::KindWord::Rack => mechanism::Kind::Rack {
            above: size == Some(part::Size::Side { above: true }),
        },
        part::KindWord::Pulley => mechanism::Kind::Pulley {
            diameter_mm: length?,
        },
        part::KindWord::Drum => mechanism::Kind::Drum {
            diameter_mm: length?,
        },
        part::KindWord::Roller => mechanism::Kind::Roller {
            diameter_mm: length?,
        },
        part::KindWord::Handle => mechanism::Kind::Handle { arm_mm: length },
        part::KindWord::Motor => mechanism::Kind::Motor,
        part::KindWord::Dynamo => mechanism::Kind::Dynamo,
        part::KindWord::Carrier => mechanism::Kind::Carrier,
    })
}

/// What is wrong with a part whose kind needs a size, and what to do.
pub(crate) fn size_missing(name: &str, kind: part::KindWord) -> (String, String) {
    let word = kind.word();
    let (noun, example) = match kind {
        part::KindWord::Worm => ("number of starts", "1 start"),
        part::KindWord::Pulley | part::KindWord::Drum | part::KindWord::Roller => {
            ("diameter", "60 mm")
        }
        part::KindWord::Gear
        | part::KindWord::Ring
        | part::KindWord::Bevel
        | part::KindWord::Sprocket
        | part::KindWord::Rack
        | part::KindWord::Handle
        | part::KindWord::Motor
        | part::KindWord::Dynamo
        | part::KindWord::Carrier => ("number of teeth", "12"),
    };
    let to_be_found = if example.ends_with("mm") {
        ""
    } else {
        "; ? where it is to be found"
    };
    (
        format!("found {word} {name} without its {noun}"),
        format!("write {word} {name} {example}{to_be_found}"),
    )
}

/// What is wrong with a name that no line declares, and what to do.
pub(crate) fn unknown(name: &str, declared: &[String]) -> (String, String) {
    let known = if declared.is_empty() {
        String::new()
    } else {
        format!("; the parts are {}", declared.join(", "))
    };
    (
        format!("found {name}, which no line says the kind of"),
        format!("say once what it is, such as gear {name} 12{known}"),
    )
}

/// A mention as it stands, for a message.
pub(crate) fn said(name: &str, word: Option<part::KindWord>, size: Option<part::Size>) -> String {
    let Some(word) = word else {
        return name.to_owned();
    };
    let is_below = size == Some(part::Size::Side { above: false });
    match kind(word, size) {
        Some(_) if is_below => format!("{} {name} below", word.word()),
        Some(whole) => part::written(name, &whole),
        None => format!("{} {name}", word.word()),
    }
}
