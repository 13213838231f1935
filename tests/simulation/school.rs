//! An invented school: its classes, its pupils, and what each of them believes.

use super::hand;
use super::pupil;
use toothmark::homework;
use toothmark::seed;

/// The name of the school. Nobody there is real.
pub(crate) const SCHOOL: &str = "Ashwhistle School";

/// One class and the homework it was set.
pub(crate) struct Class {
    /// The folder under `sample-classes`.
    pub(crate) folder: &'static str,
    /// The class's name.
    pub(crate) name: &'static str,
    /// The year each pupil is in, by turns (two for a mixed-age class).
    pub(crate) years: &'static [&'static str],
    /// How many pupils.
    pub(crate) pupil_count: usize,
    /// The bank's file.
    pub(crate) bank: &'static str,
    /// Lowest and highest level.
    pub(crate) levels: (u8, u8),
    /// How many questions.
    pub(crate) question_count: usize,
    /// Whether every pupil has their own numbers.
    pub(crate) each: bool,
    /// The title of the homework.
    pub(crate) title: &'static str,
    /// The day it was set.
    pub(crate) date: &'static str,
    /// The seed of the homework.
    pub(crate) seed: &'static str,
    /// How the answers came back.
    pub(crate) came_back: CameBack,
}

/// How a class's answers were typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum CameBack {
    /// An assistant typed them off paper into the answer workbook (xlsx).
    TypedOffPaper,
    /// Somebody made a sheet of their own in `LibreOffice`, whose cells change
    /// `3:1` into a time and `1/2` into a date (xlsx).
    OwnSheet,
    /// The answer workbook, saved as ods.
    SavedAsOds,
    /// A form the pupils filled in, exported as csv.
    FormExport,
}

/// The classes, youngest first.
pub(crate) const CLASSES: [Class; 4] = [
    Class {
        folder: "2-hazel",
        name: "2 Hazel",
        years: &["2"],
        pupil_count: 26,
        bank: "gears-5-7.toml",
        levels: (1, 2),
        question_count: 8,
        each: false,
        title: "Which way does it turn?",
        date: "2026-10-05",
        seed: "hazel-autumn",
        came_back: CameBack::SavedAsOds,
    },
    Class {
        folder: "5-rowan",
        name: "5 Rowan",
        years: &["5"],
        pupil_count: 30,
        bank: "gears-7-11.toml",
        levels: (3, 5),
        question_count: 12,
        each: true,
        title: "Gears that turn gears",
        date: "2026-10-06",
        seed: "rowan-autumn",
        came_back: CameBack::TypedOffPaper,
    },
    Class {
        folder: "6-alder",
        name: "6 Alder",
        years: &["5", "6"],
        pupil_count: 24,
        bank: "gears-7-11.toml",
        levels: (4, 5),
        question_count: 12,
        each: false,
        title: "Ratios with gears",
        date: "2026-10-07",
        seed: "alder-autumn",
        came_back: CameBack::OwnSheet,
    },
    Class {
        folder: "8-linden",
        name: "8 Linden",
        years: &["8"],
        pupil_count: 28,
        bank: "gears-11-14.toml",
        levels: (6, 8),
        question_count: 14,
        each: true,
        title: "Gearboxes, worms and racks",
        date: "2026-10-08",
        seed: "linden-3",
        came_back: CameBack::FormExport,
    },
];

/// A made-up pupil: what the roll says, and what is in their head.
pub(crate) struct Pupil {
    /// What the roll says.
    pub(crate) on_roll: homework::Pupil,
    /// How they think.
    pub(crate) mind: pupil::Mind,
    /// Whether they were there.
    pub(crate) attendance: &'static str,
    /// How they write.
    pub(crate) hand: hand::Hand,
}

const FIRST_NAMES: [&str; 36] = [
    "Abena", "Anouk", "Bertil", "Callum", "Chidi", "Dilys", "Edda", "Farid", "Fenna", "Goran",
    "Hedda", "Idris", "Ines", "Jorah", "Kezia", "Lorcan", "Maeve", "Milos", "Nadia", "Noor",
    "Odalys", "Osian", "Petra", "Quilla", "Rafe", "Runa", "Sanna", "Soren", "Tamsin", "Tariq",
    "Una", "Viggo", "Wanda", "Yusuf", "Zadie", "Zoran",
];

const LAST_NAMES: [&str; 30] = [
    "Applegarth",
    "Bexwold",
    "Corrander",
    "Dunlathe",
    "Eskerby",
    "Fallowden",
    "Garthwick",
    "Hollinrake",
    "Inglemere",
    "Jessamay",
    "Kilbrannock",
    "Larkmoor",
    "Mossgill",
    "Netherlow",
    "Oxlade-Fenn",
    "Penhallin",
    "Quenby",
    "Rushmarsh",
    "Silverthwaite",
    "Tarnholme",
    "Underhay",
    "Vantongeren",
    "Wetherlam",
    "Yarrowby",
    "O'Zeal",
    "Brackenshaw",
    "Copperthorn",
    "Dapplemere",
    "Elverstone",
    "Featherby",
];

/// Beliefs by the age they are met at, commonest first.
const YOUNG: [&[&str]; 4] = [
    &["same-direction"],
    &["big-gear-faster"],
    &["jobs-swapped", "same-direction"],
    &["any-loop-turns", "same-direction"],
];
const MIDDLE: [&[&str]; 6] = [
    &["ratio-upside-down", "big-gear-faster"],
    &["teeth-difference-added", "same-speed"],
    &["stops-at-idler", "idler-overlooked"],
    &["big-gear-faster", "ratio-upside-down"],
    &["same-speed"],
    &["any-loop-turns", "ratio-order-swapped"],
];
const OLDER: [&[&str]; 6] = [
    &["first-stage-only"],
    &["adds-stages"],
    &["ratio-upside-down", "force-upside-down"],
    &["worm-starts-ignored", "radius-for-diameter"],
    &["shared-axle-overlooked"],
    &[
        "minutes-left-out",
        "gears-left-out-of-winch",
        "force-upside-down",
    ],
];

/// Returns the pupils of a class, the same every time.
pub(crate) fn pupils(class: &Class) -> Vec<Pupil> {
    let mut stream = seed::Stream::named(&["invented school", SCHOOL, class.folder], 0);
    let mut names: Vec<String> = Vec::new();
    for first in FIRST_NAMES {
        for last in LAST_NAMES {
            names.push(format!("{first} {last}"));
        }
    }
    stream.shuffle(&mut names);
    let mut roll = Vec::new();
    for (index, name) in names.into_iter().take(class.pupil_count).enumerate() {
        roll.push(pupil(class, index, name, &mut stream));
    }
    roll
}

fn pupil(class: &Class, index: usize, name: String, stream: &mut seed::Stream) -> Pupil {
    let years = class.years;
    let year = years.get(index % years.len()).copied().unwrap_or_default();
    let beliefs: &[&[&str]] = match class.levels.1 {
        1 | 2 => &YOUNG,
        3..=5 => &MIDDLE,
        _ => &OLDER,
    };
    // About half the pupils hold a belief, and hold it steadily.
    let holds = stream.below(2) == 0;
    let believes = stream.choose(beliefs).copied().unwrap_or_default();
    let believes = if holds {
        believes.iter().map(|id| (*id).to_owned()).collect()
    } else {
        Vec::new()
    };
    let runs_out = stream.below(8) == 0;
    let reached = class.question_count - 1 - stream.index(3);
    let mind = pupil::Mind {
        believes,
        steadiness: 92,
        slips: 4 + stream.below(10),
        leaves_out: stream.below(6),
        reaches: runs_out.then_some(reached),
    };
    let attendance = match index {
        4 => "absent",
        11 if class.pupil_count > 25 => "Absent",
        17 => "excused",
        _ => "",
    };
    let number = 101 + index;
    let table = ["red", "blue", "green"]
        .get(stream.index(3))
        .copied()
        .unwrap_or_default();
    let id = format!(
        "{}{number}",
        class
            .name
            .chars()
            .filter(|sign| !sign.is_whitespace())
            .take(2)
            .collect::<String>()
    );
    Pupil {
        on_roll: homework::Pupil {
            id,
            name,
            class: class.name.to_owned(),
            year: year.to_owned(),
            level: None,
            groups: [("table".to_owned(), table.to_owned())].into(),
        },
        mind,
        attendance,
        hand: match stream.below(3) {
            0 => hand::Hand::Plain,
            _ => hand::Hand::Lively,
        },
    }
}
