//! Words that are numbers, with the misspellings children make.

/// The worth of a word for a whole number below a hundred.
pub(super) fn small(word: &str) -> Option<u32> {
    Some(match word {
        "zero" | "nought" | "naught" | "nil" | "nothing" | "none" | "zeroo" | "noughts" => 0,
        "one" | "wun" => 1,
        "two" | "tow" | "twoo" => 2,
        "three" | "thre" | "threee" | "theree" => 3,
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
        word => return tens(word),
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
        "eighth" | "eighths" | "eigths" => 8,
        "ninth" | "ninths" | "nineth" => 9,
        "tenth" | "tenths" => 10,
        "twelfth" | "twelfths" => 12,
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
