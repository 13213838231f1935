//! Words that are numbers, with the misspellings children make.

/// The worth of a word for a whole number below a hundred.
pub(super) fn small(word: &str) -> Option<u32> {
    Some(match word {
        "zero" | "nought" | "naught" | "nil" | "nothing" | "none" | "zeroo" | "noughts" => 0,
        "one" | "wun" => 1,
        "two" | "tow" | "twoo" => 2,
        "three" | "tree" | "thre" | "threee" | "theree" => 3,
        "four" | "foor" | "fuor" | "foure" => 4,
        "five" | "fiv" | "fife" | "fivee" => 5,
        "six" | "siks" | "sicks" | "sixx" => 6,
        "seven" | "sevn" | "sevan" | "sevon" => 7,
        "eight" | "eigt" | "eigth" | "eihgt" | "eght" | "aight" => 8,
        "nine" | "nin" | "nien" | "nyne" => 9,
        "ten" | "tenn" => 10,
        "eleven" | "elevn" | "elevan" | "eleaven" | "elven" => 11,
        "twelve" | "twelv" | "twelfe" | "twelth" | "tweleve" | "twelvth" | "dozen" => 12,
        "thirteen" | "thirten" | "therteen" | "thriteen" => 13,
        "fourteen" | "forteen" | "fourten" => 14,
        "fifteen" | "fiveteen" | "fiften" | "fivteen" => 15,
        "sixteen" | "sixten" => 16,
        "seventeen" | "seventen" | "seveteen" => 17,
        "eighteen" | "eightteen" | "eigteen" | "eighten" => 18,
        "nineteen" | "ninteen" | "nineten" => 19,
        word => return tens(word).or_else(|| run_together(word)),
    })
}

/// `thirtysix`: tens and units without a space.
fn run_together(word: &str) -> Option<u32> {
    const TENS: [&str; 8] = [
        "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
    ];
    TENS.into_iter().find_map(|name| {
        let units = small(word.strip_prefix(name).filter(|rest| rest.len() >= 3)?)?;
        (1..=9).contains(&units).then_some(tens(name)? + units)
    })
}

/// The worth of a word for twenty, thirty ... ninety.
pub(super) fn tens(word: &str) -> Option<u32> {
    Some(match word {
        "twenty" | "twenny" | "twentey" | "twenti" | "tweny" | "twety" => 20,
        "thirty" | "thrity" | "therty" | "thirdy" => 30,
        "forty" | "fourty" | "fortey" => 40,
        "fifty" | "fivety" | "fivty" | "fiftey" => 50,
        "sixty" | "sixtey" => 60,
        "seventy" | "sevnty" | "sevety" => 70,
        "eighty" | "eigty" | "eightey" | "eightty" => 80,
        "ninety" | "ninty" | "ninetey" | "nintey" => 90,
        _ => return None,
    })
}

/// The worth of a word that multiplies what stands before it.
pub(super) fn multiplier(word: &str) -> Option<u32> {
    Some(match word {
        "hundred" | "hundreds" | "hundrd" | "hunderd" | "hundered" | "hundread" => 100,
        "thousand" | "thousands" | "thousend" | "thosand" | "thousnd" | "thousant" => 1000,
        _ => return None,
    })
}

/// The bottom of the fraction that a word names.
pub(super) fn fraction_bottom(word: &str) -> Option<u32> {
    Some(match word {
        "half" | "halfs" | "halves" | "halve" | "harf" | "haf" | "hafe" | "halfe" => 2,
        "third" | "thirds" | "thrid" | "thrids" => 3,
        "quarter" | "quarters" | "quater" | "quaters" | "qaurter" | "quartar" | "qarter"
        | "fourth" | "fourths" | "corter" => 4,
        "fifth" | "fifths" | "fith" | "fiths" => 5,
        "sixth" | "sixths" => 6,
        "seventh" | "sevenths" => 7,
        "eighth" | "eighths" | "eigths" | "eights" => 8,
        "ninth" | "ninths" | "nineth" => 9,
        "tenth" | "tenths" => 10,
        "twelfth" | "twelfths" => 12,
        "twentieth" | "twentieths" => 20,
        word => return teenth(word),
    })
}

/// `elevenths`, `sixteenth`, `hundredths`.
fn teenth(word: &str) -> Option<u32> {
    let stem = word
        .strip_suffix("ths")
        .or_else(|| word.strip_suffix("th"))?;
    small(stem)
        .filter(|bottom| (11..=19).contains(bottom))
        .or_else(|| multiplier(stem))
}

/// Whether a word is within one letter of a number's name, and not it.
pub(super) fn is_nearly_one(word: &str) -> bool {
    const NAMES: [&str; 24] = [
        "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
        "thirteen", "fifteen", "twenty", "thirty", "forty", "fifty", "sixty", "hundred",
        "thousand", "half", "third", "thirds", "quarter",
    ];
    word.len() >= 3
        && NAMES
            .iter()
            .any(|name| strsim::osa_distance(word, name) <= 1)
}

/// How many starts a word for a worm gives: `double start`.
pub(super) fn starts(word: &str) -> Option<u32> {
    Some(match word {
        "single" => 1,
        "double" => 2,
        "triple" | "treble" => 3,
        "quadruple" => 4,
        _ => return None,
    })
}

/// The number that a word for how often gives.
pub(super) fn how_often(word: &str) -> Option<u32> {
    Some(match word {
        "once" | "wonce" | "onece" | "onse" => 1,
        "twice" | "twise" | "twicer" | "tice" => 2,
        "thrice" => 3,
        _ => return None,
    })
}
