//! An invented school: its classes, its pupils, and what each of them believes.

use super::hand;
use super::pupil;
use toothmark::homework;
use toothmark::seed;

/// The name of the school. Nobody there is real.
pub(crate) const SCHOOL: &str = "Ashwhistle School";

/// One class and a homework it was set.
pub(crate) struct Class {
    /// The folder under `sample-classes`; what was set after the autumn has one within it.
    pub(crate) folder: &'static str,
    /// How many terms before it were taught: none in autumn.
    pub(crate) terms: usize,
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

/// The classes in autumn, youngest first.
pub(crate) const CLASSES: [Class; 4] = [
    Class {
        folder: "2-hazel",
        terms: 0,
        name: "2 Hazel",
        years: &["2"],
        pupil_count: 26,
        bank: "gears-5-7.toml",
        levels: (1, 2),
        question_count: 8,
        each: false,
        title: "Which way does it turn?",
        date: "2025-10-06",
        seed: "hazel-autumn",
        came_back: CameBack::SavedAsOds,
    },
    Class {
        folder: "5-rowan",
        terms: 0,
        name: "5 Rowan",
        years: &["5"],
        pupil_count: 30,
        bank: "gears-7-11.toml",
        levels: (3, 5),
        question_count: 12,
        each: true,
        title: "Gears that turn gears",
        date: "2025-10-07",
        seed: "rowan-autumn",
        came_back: CameBack::TypedOffPaper,
    },
    Class {
        folder: "6-alder",
        terms: 0,
        name: "6 Alder",
        years: &["5", "6"],
        pupil_count: 24,
        bank: "gears-7-11.toml",
        levels: (4, 5),
        question_count: 12,
        each: false,
        title: "Ratios with gears",
        date: "2025-10-08",
        seed: "alder-autumn",
        came_back: CameBack::OwnSheet,
    },
    Class {
        folder: "8-linden",
        terms: 0,
        name: "8 Linden",
        years: &["8"],
        pupil_count: 28,
        bank: "gears-11-14.toml",
        levels: (6, 8),
        question_count: 14,
        each: true,
        title: "Gearboxes, worms and racks",
        date: "2025-10-09",
        seed: "linden-3",
        came_back: CameBack::FormExport,
    },
];

/// What the classes were set after that, in spring and in summer.
pub(crate) const LATER: [Class; 8] = [
    Class {
        folder: "2-hazel/spring",
        terms: 1,
        title: "Round and round",
        date: "2026-03-02",
        seed: "hazel-spring",
        ..later(&CLASSES[0])
    },
    Class {
        folder: "5-rowan/spring",
        terms: 1,
        title: "Faster or slower?",
        date: "2026-03-03",
        seed: "rowan-spring",
        ..later(&CLASSES[1])
    },
    Class {
        folder: "6-alder/spring",
        terms: 1,
        title: "Which way, how fast?",
        date: "2026-03-04",
        seed: "alder-spring",
        ..later(&CLASSES[2])
    },
    Class {
        folder: "8-linden/spring",
        terms: 1,
        title: "Trains and winches",
        date: "2026-03-05",
        seed: "linden-spring",
        ..later(&CLASSES[3])
    },
    Class {
        folder: "2-hazel/summer",
        terms: 2,
        title: "Gears in a row",
        date: "2026-06-15",
        seed: "hazel-summer",
        ..later(&CLASSES[0])
    },
    Class {
        folder: "5-rowan/summer",
        terms: 2,
        title: "Trains of gears",
        date: "2026-06-16",
        seed: "rowan-summer",
        ..later(&CLASSES[1])
    },
    Class {
        folder: "6-alder/summer",
        terms: 2,
        title: "Gears at work",
        date: "2026-06-17",
        seed: "alder-summer",
        ..later(&CLASSES[2])
    },
    Class {
        folder: "8-linden/summer",
        terms: 2,
        title: "Speed for force",
        date: "2026-06-18",
        seed: "linden-summer",
        ..later(&CLASSES[3])
    },
];

/// The class with a homework of twelve questions at the most, the same for all, which
/// came back as a form's export.
const fn later(class: &Class) -> Class {
    Class {
        question_count: if class.question_count < 12 {
            class.question_count
        } else {
            12
        },
        each: false,
        came_back: CameBack::FormExport,
        ..*class
    }
}

/// Returns every homework of the school, in the order of the terms.
pub(crate) fn homeworks() -> impl Iterator<Item = &'static Class> {
    CLASSES.iter().chain(&LATER)
}

impl Class {
    /// The class's own folder, in which those of its later homeworks lie.
    fn home(&self) -> &str {
        self.folder.split('/').next().unwrap_or_default()
    }

    /// The class in autumn.
    fn in_autumn(&self) -> &'static Self {
        let found = CLASSES.iter().find(|class| class.folder == self.home());
        found.expect("every class is there in autumn")
    }
}

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

/// Returns the pupils of a class at the time of a homework, the same every time.
///
/// In spring a pupil joins 5 Rowan; in summer one of that class moves to 6 Alder.
pub(crate) fn pupils(class: &Class) -> Vec<Pupil> {
    let autumn = class.in_autumn();
    let count = class.pupil_count + usize::from(class.home() == "5-rowan" && class.terms > 0);
    let mut pupils = on_roll(autumn, count);
    if class.terms > 1 {
        match class.home() {
            "5-rowan" => {
                pupils.remove(MOVES);
            }
            "6-alder" => {
                let rowan = &CLASSES[1];
                let mut moved = on_roll(rowan, rowan.pupil_count).swap_remove(MOVES);
                class.name.clone_into(&mut moved.on_roll.class);
                pupils.push(moved);
            }
            _ => {}
        }
    }
    for (index, pupil) in pupils.iter_mut().enumerate() {
        for term in 1..=class.terms {
            learn(pupil, class, term);
        }
        pupil.attendance = attendance(class, index);
    }
    pupils
}

/// Who of 5 Rowan moves to 6 Alder in summer.
const MOVES: usize = 9;

/// What a term's teaching does: about half of those who hold a belief let go of it, and
/// slips grow rarer. In 8 Linden nothing was taught again.
fn learn(pupil: &mut Pupil, class: &Class, term: usize) {
    if class.home() == "8-linden" {
        return;
    }
    let term = term.to_string();
    let name = ["learns", SCHOOL, &pupil.on_roll.id, &term];
    let mut stream = seed::Stream::named(&name, 2);
    if stream.below(2) == 0 {
        pupil.mind.believes.clear();
    }
    pupil.mind.slips = pupil.mind.slips.saturating_sub(3);
    pupil.mind.reaches = None;
}

/// Whether a pupil was there: others are away each term.
fn attendance(class: &Class, index: usize) -> &'static str {
    let is = |first: usize| index == first + 3 * class.terms;
    if is(4) {
        "absent"
    } else if is(11) && class.pupil_count > 25 {
        "Absent"
    } else if is(17) {
        "excused"
    } else {
        ""
    }
}

/// The first pupils of a class's roll in autumn.
fn on_roll(class: &Class, count: usize) -> Vec<Pupil> {
    let mut stream = seed::Stream::named(&["invented school", SCHOOL, class.folder], 0);
    let mut names: Vec<String> = Vec::new();
    for first in FIRST_NAMES {
        for last in LAST_NAMES {
            names.push(format!("{first} {last}"));
        }
    }
    stream.shuffle(&mut names);
    let mut roll = Vec::new();
    for (index, name) in names.into_iter().take(count).enumerate() {
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
        attendance: "",
        hand: match stream.below(3) {
            0 => hand::Hand::Plain,
            _ => hand::Hand::Lively,
        },
    }
}
