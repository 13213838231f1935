//! What may be told of small groups, over all tables of one review at once.
//!
//! Takes a fold; enters every row that is told into one [`held_back::Ledger`], with all
//! sums that a reader knows to hold, and gives the rows with what may be told of them.
//!
//! - *Marks* add up over the finest groups ([`atoms`]): place, term and skill. Levels add
//!   up to the whole, the questions of a skill to the skill.
//! - *Pupils* add up over places, in all and for each skill; one who moved counts in each
//!   place, and how many moved is taken to be known.
//! - A homework that all pupils of its classes handed in tells how many these are.
//! - Small groups in no table are kept safe too ([`crossings`]).
//!
//! The skills of a class or year are held back with it.

use crate::attainment;
use crate::attainment::bands;
use crate::attainment::bands::entries;
use crate::attainment::bands::numbers;
use crate::attainment::count;
use crate::attainment::counted;
use crate::attainment::fold;
use crate::attainment::fold::kept;
use crate::attainment::grid;
use crate::attainment::group;
use crate::attainment::misconceptions;
use crate::attainment::told::atoms::By;
use crate::held_back;
use crate::level;
use crate::statistics::rasch;
use std::collections::BTreeMap;

pub(super) mod atoms;
mod crossings;

/// What is told of the groups of a run.
pub(super) struct Tables {
    pub(super) whole: attainment::Row,
    pub(super) years: Vec<attainment::Row>,
    pub(super) classes: Vec<attainment::Row>,
    pub(super) groups: Vec<attainment::Row>,
    pub(super) school_years: Vec<attainment::Row>,
    pub(super) terms: Vec<attainment::Row>,
    pub(super) skills: Vec<attainment::Row>,
    pub(super) levels: Vec<attainment::Row>,
    pub(super) questions: Vec<attainment::Row>,
    pub(super) skills_by_year: grid::Grid,
    pub(super) skills_by_class: grid::Grid,
    /// A number for each homework, in their order.
    pub(super) homeworks: Vec<count::Count>,
    pub(super) misconceptions: misconceptions::Table,
    pub(super) bands: Option<bands::Table>,
    /// How many classes there are, where they are too many for a table.
    pub(super) classes_left_out: Option<usize>,
}

/// A table, as far as rows are held back rather in the same table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Table {
    Whole,
    Years,
    Classes,
    /// By the labels under the heading of this number.
    Groups(usize),
    SchoolYears,
    Terms,
    Skills,
    Levels,
    Questions,
    SkillsByYear,
    SkillsByClass,
    Homeworks,
    Misconceptions,
    BandsOfAll,
    BandsOfYears,
    BandsOfClasses,
}

impl Table {
    /// Its number in the ledger.
    pub(super) fn number(self) -> usize {
        match self {
            Self::Whole => 0,
            Self::Years => 1,
            Self::Classes => 2,
            Self::Groups(heading) => 16 + heading,
            Self::SchoolYears => 4,
            Self::Terms => 5,
            Self::Skills => 6,
            Self::Levels => 7,
            Self::Questions => 8,
            Self::SkillsByYear => 9,
            Self::SkillsByClass => 10,
            Self::Homeworks => 11,
            Self::Misconceptions => 12,
            Self::BandsOfAll => 13,
            Self::BandsOfYears => 14,
            Self::BandsOfClasses => 15,
        }
    }
}

/// A row that was entered.
#[derive(Debug)]
struct Entered {
    entry: held_back::EntryId,
    counted: counted::Counted,
    atoms: Vec<usize>,
}

/// The rows of one table, by the number of their group.
type Rows = BTreeMap<usize, Entered>;
/// The cells of a grid, by the numbers of column and row.
type Cells = BTreeMap<(usize, usize), Entered>;

/// The ledger of a run while it is filled.
struct Filling<'a> {
    fold: &'a fold::Fold,
    atoms: atoms::Atoms,
    ledger: held_back::Ledger,
}

/// The entries of the years and classes, which other tables are told by.
#[derive(Debug)]
pub(super) struct Groups {
    pub(super) whole: (held_back::EntryId, u64),
    pub(super) years: BTreeMap<group::Key, (held_back::EntryId, u64)>,
    pub(super) classes: BTreeMap<group::Key, (held_back::EntryId, u64)>,
}

impl Groups {
    /// Returns the entry of a group with its number of pupils, if it is told of at all.
    pub(super) fn group(
        &self,
        kind: bands::Kind,
        key: &group::Key,
    ) -> Option<(held_back::EntryId, u64)> {
        match kind {
            bands::Kind::All => Some(self.whole),
            bands::Kind::Year => self.years.get(key).copied(),
            bands::Kind::Class => self.classes.get(key).copied(),
        }
    }
}

/// Returns what may be told of a fold.
pub(super) fn of(fold: &fold::Fold, school: &attainment::School, scales: &rasch::Scales) -> Tables {
    let mut filling = Filling {
        fold,
        atoms: atoms::Atoms::of(fold, school),
        ledger: held_back::Ledger::default(),
    };
    let whole = filling.whole();
    let years = filling.rows(Table::Years, By::Year);
    let classes = filling.rows(Table::Classes, By::Class);
    let headings: Vec<Rows> = (0..filling.atoms.headings.len())
        .map(|heading| filling.rows(Table::Groups(heading), By::Heading(heading)))
        .collect();
    let school_years = filling.rows(Table::SchoolYears, By::SchoolYear);
    let terms = filling.rows(Table::Terms, By::Term);
    let skills = filling.rows(Table::Skills, By::Skill);
    let by_year = filling.cells(Table::SkillsByYear, By::Year, &years);
    let by_class = filling.cells(Table::SkillsByClass, By::Class, &classes);
    let levels = filling.levels(&whole);
    let questions = filling.questions(&skills);
    let homeworks = filling.homeworks();
    let mut tables: Vec<Vec<&Entered>> = vec![vec![&whole]];
    tables.extend([&years, &classes, &school_years, &terms, &skills].map(in_order));
    tables.extend(headings.iter().map(in_order));
    let grids = [by_year.values().collect(), by_class.values().collect()];
    let marks: Vec<&Entered> = tables.iter().chain(&grids).flatten().copied().collect();
    filling.add_marks(&marks);
    let mut pupils = vec![&whole];
    pupils.extend(
        [&years, &classes]
            .into_iter()
            .chain(&headings)
            .flat_map(BTreeMap::values),
    );
    filling.add_pupils(&pupils, &homeworks);
    let mut pupils: Vec<&Entered> = skills.values().collect();
    pupils.extend(grids.iter().flatten());
    filling.add_pupils_by_skill(&pupils);
    let groups = Groups {
        whole: (whole.entry, whole.counted.pupils().len()),
        years: named(&filling.atoms.years, &years),
        classes: named(&filling.atoms.classes, &classes),
    };
    let found = misconceptions::Pupils::of(fold);
    let misconceptions = found.enter(fold, &groups, &mut filling.ledger);
    let bands = school.bands.as_ref().map(|bands| {
        let numbers = numbers::Numbers::of(fold, bands, &groups, scales);
        let entries = entries::Entries::of(&numbers, &groups, &mut filling.ledger);
        (bands, numbers, entries)
    });
    let told = filling.ledger.protect();
    let atoms = &filling.atoms;
    let skill_keys: Vec<group::Key> = atoms.skills.iter().map(|it| group::skill(*it)).collect();
    Tables {
        whole: row(
            "All",
            String::new(),
            &whole,
            &told,
            answers([&whole], &told),
        ),
        years: table(&atoms.years, &years, &told),
        classes: table(&atoms.classes, &classes, &told),
        groups: atoms
            .headings
            .iter()
            .zip(&headings)
            .flat_map(|(keys, rows)| table(keys, rows, &told))
            .collect(),
        school_years: table(&atoms.school_years, &school_years, &told),
        terms: table(&atoms.terms, &terms, &told),
        skills: table(&skill_keys, &skills, &told),
        levels: {
            let keys: Vec<group::Key> = fold.levels.keys().map(|it| group::level(*it)).collect();
            table(&keys, &levels, &told)
        },
        questions: filling.question_rows(&questions, &told),
        skills_by_year: told_grid(&atoms.years, &skill_keys, &by_year, &told),
        skills_by_class: told_grid(&atoms.classes, &skill_keys, &by_class, &told),
        homeworks: homeworks
            .iter()
            .map(|(entry, pupils, _)| count::Count::of(*pupils, told.of(*entry)))
            .collect(),
        misconceptions: found.table(fold, &groups, &misconceptions, &told),
        bands: bands
            .map(|(bands, numbers, entries)| entries.table(&numbers, bands, &groups, &told)),
        classes_left_out: (atoms.class_count > atoms::MOST_CLASSES).then_some(atoms.class_count),
    }
}

/// A homework's entry, its pupils and the places whose pupils they all are.
type Homework = (held_back::EntryId, u32, Option<Vec<usize>>);

impl Filling<'_> {
    /// Enters a row.
    fn enter(
        &mut self,
        table: Table,
        counted: counted::Counted,
        atoms: Vec<usize>,
        with: Vec<held_back::EntryId>,
    ) -> Entered {
        let entry = self.ledger.enter(held_back::Entry {
            marks: Some(counted.marks()),
            with,
            ..held_back::Entry::group(table.number(), counted.pupils().len())
        });
        Entered {
            entry,
            counted,
            atoms,
        }
    }

    fn whole(&mut self) -> Entered {
        let mut counted = counted::Counted::default();
        for atom in &self.atoms.finest {
            counted.join(&atom.counted);
        }
        let all = (0..self.atoms.finest.len()).collect();
        self.enter(Table::Whole, counted, all, Vec::new())
    }

    /// Enters the rows of a table.
    fn rows(&mut self, table: Table, by: By) -> Rows {
        let mut groups: BTreeMap<usize, (counted::Counted, Vec<usize>)> = BTreeMap::new();
        for (place, atom) in self.atoms.finest.iter().enumerate() {
            if let Some(group) = self.atoms.of_atom(atom, by) {
                let group = groups.entry(group).or_default();
                group.0.join(&atom.counted);
                group.1.push(place);
            }
        }
        let groups = groups.into_iter();
        groups
            .map(|(group, (counted, atoms))| (group, self.enter(table, counted, atoms, Vec::new())))
            .collect()
    }

    /// Enters the skills of each group; they are held back with the group.
    fn cells(&mut self, table: Table, by: By, rows: &Rows) -> Cells {
        let mut cells: BTreeMap<(usize, usize), (counted::Counted, Vec<usize>)> = BTreeMap::new();
        for (place, atom) in self.atoms.finest.iter().enumerate() {
            if let Some(group) = self.atoms.of_atom(atom, by) {
                let cell = cells.entry((group, atom.skill)).or_default();
                cell.0.join(&atom.counted);
                cell.1.push(place);
            }
        }
        let cells = cells.into_iter();
        cells
            .map(|(key, (counted, atoms))| {
                let with = rows.get(&key.0).map(|row| row.entry).into_iter().collect();
                (key, self.enter(table, counted, atoms, with))
            })
            .collect()
    }

    /// Enters the levels: together they are the whole.
    fn levels(&mut self, whole: &Entered) -> Rows {
        let levels: Vec<counted::Counted> = self.fold.levels.values().cloned().collect();
        let (rows, mut system) = self.parts(Table::Levels, levels);
        system.view(Some(whole.entry), (0..rows.len()).collect());
        self.ledger.add(system);
        rows.into_iter().enumerate().collect()
    }

    /// Enters the questions: those of a skill are the skill.
    fn questions(&mut self, skills: &Rows) -> BTreeMap<kept::Question, Entered> {
        let mut asked: Vec<(group::Key, kept::Question)> = self
            .fold
            .questions
            .keys()
            .map(|question| (self.fold.question_key(*question), *question))
            .collect();
        asked.sort_by(|one, other| one.0.cmp(&other.0));
        let counted = asked.iter().map(|(_, question)| {
            let asked = self.fold.questions.get(question);
            asked.map(|asked| asked.counted.clone()).unwrap_or_default()
        });
        let (rows, mut system) = self.parts(Table::Questions, counted.collect());
        for (number, skill) in self.atoms.skills.iter().enumerate() {
            let of_skill = |skill: level::Skill| {
                let asked = asked.iter().enumerate();
                asked.filter(move |(_, (_, question))| question.skill == skill)
            };
            let parts = of_skill(*skill).map(|(place, _)| place).collect();
            if let Some(row) = skills.get(&number) {
                system.view(Some(row.entry), parts);
            }
        }
        self.ledger.add(system);
        let asked = asked.into_iter().map(|(_, question)| question);
        asked.zip(rows).collect()
    }

    /// Enters rows that are parts themselves, and returns their marks as a system.
    fn parts(
        &mut self,
        table: Table,
        counted: Vec<counted::Counted>,
    ) -> (Vec<Entered>, held_back::System) {
        let mut system = held_back::System::default();
        add_marks_of(&mut system, counted.iter());
        let rows: Vec<Entered> = counted
            .into_iter()
            .enumerate()
            .map(|(place, counted)| self.enter(table, counted, vec![place], Vec::new()))
            .collect();
        for row in &rows {
            system.view(Some(row.entry), row.atoms.clone());
        }
        (rows, system)
    }

    /// Enters how many handed in each homework.
    fn homeworks(&mut self) -> Vec<Homework> {
        let pupils = self.pupils_of_places();
        let told = self.fold.homeworks.values();
        let told: Vec<(u32, Vec<usize>)> = told
            .map(|told| {
                let names = told.classes.iter().map(|it| self.fold.names.text(*it));
                let keys: Vec<group::Key> = names.map(group::class).collect();
                let classes = keys.iter();
                let classes = classes.map(|key| self.atoms.classes.binary_search(key).ok());
                (told.pupils, classes.flatten().collect())
            })
            .collect();
        told.into_iter()
            .map(|(handed_in, classes)| {
                let entry = held_back::Entry::group(Table::Homeworks.number(), handed_in.into());
                let entry = self.ledger.enter(entry);
                let places = 0..self.atoms.places.len();
                let places: Vec<usize> = places
                    .filter(|place| {
                        let class = self.atoms.of_place(*place, By::Class);
                        class.is_some_and(|class| classes.contains(&class))
                    })
                    .collect();
                let all = crossings::together(places.iter().filter_map(|it| pupils.get(*it)));
                let is_all = !places.is_empty() && all.len() == u64::from(handed_in);
                (entry, handed_in, is_all.then_some(places))
            })
            .collect()
    }

    /// The pupils of each place.
    fn pupils_of_places(&self) -> Vec<crossings::Pupils> {
        let mut pupils = vec![crossings::Pupils::new(); self.atoms.places.len()];
        for atom in &self.atoms.finest {
            if let Some(pupils) = pupils.get_mut(atom.place) {
                *pupils |= atom.counted.pupils();
            }
        }
        pupils
    }

    /// Adds the marks of the finest groups, and which rows are sums of which.
    fn add_marks(&mut self, rows: &[&Entered]) {
        let mut system = held_back::System::default();
        add_marks_of(&mut system, self.atoms.finest.iter().map(|it| &it.counted));
        for row in rows {
            system.view(Some(row.entry), row.atoms.clone());
        }
        for (tables, care, atoms) in crossings::of_marks(&self.atoms) {
            system.secret(tables, care, atoms);
        }
        self.ledger.add(system);
    }

    /// Adds the pupils of places.
    fn add_pupils(&mut self, rows: &[&Entered], homeworks: &[Homework]) {
        let pupils = self.pupils_of_places();
        let mut system = held_back::System::default();
        let sizes = pupils.iter().map(crossings::Pupils::len);
        system.layer(held_back::Quantity::Pupils, sizes.collect());
        for row in rows {
            let mut places: Vec<usize> = row
                .atoms
                .iter()
                .filter_map(|atom| self.atoms.finest.get(*atom))
                .map(|atom| atom.place)
                .collect();
            places.dedup();
            system.view(Some(row.entry), places);
        }
        for (entry, _, places) in homeworks {
            if let Some(places) = places {
                system.view(Some(*entry), places.clone());
            }
        }
        for (tables, care, places) in crossings::of_places(&self.atoms, &pupils) {
            system.secret(tables, care, places);
        }
        self.ledger.add(system);
    }

    /// Adds the pupils of places who did a skill.
    fn add_pupils_by_skill(&mut self, rows: &[&Entered]) {
        let mut parts: BTreeMap<(usize, usize), (usize, crossings::Pupils)> = BTreeMap::new();
        for atom in &self.atoms.finest {
            let next = parts.len();
            let part = parts.entry((atom.place, atom.skill));
            let part = part.or_insert_with(|| (next, crossings::Pupils::new()));
            part.1 |= atom.counted.pupils();
        }
        let mut sizes = vec![0; parts.len()];
        for (place, pupils) in parts.values() {
            sizes[*place] = pupils.len();
        }
        let mut system = held_back::System::default();
        system.layer(held_back::Quantity::Pupils, sizes);
        for row in rows {
            let atoms = row.atoms.iter();
            let atoms = atoms.filter_map(|atom| self.atoms.finest.get(*atom));
            let mut of_row: Vec<usize> = atoms
                .filter_map(|atom| parts.get(&(atom.place, atom.skill)))
                .map(|(place, _)| *place)
                .collect();
            of_row.sort_unstable();
            of_row.dedup();
            system.view(Some(row.entry), of_row);
        }
        self.ledger.add(system);
    }

    fn question_rows(
        &self,
        questions: &BTreeMap<kept::Question, Entered>,
        told: &held_back::Protected,
    ) -> Vec<attainment::Row> {
        let answers = answers(questions.values(), told);
        let mut rows: Vec<(group::Key, attainment::Row)> = questions
            .iter()
            .map(|(question, entered)| {
                let asked = self.fold.questions.get(question);
                let levels = asked.map(|asked| asked.levels.iter()).unwrap_or_default();
                let about: Vec<String> = levels
                    .map(|level| format!("{}, level {level}", question.skill.title()))
                    .collect();
                let key = self.fold.question_key(*question);
                let row = row(&key.label, about.join("; "), entered, told, answers);
                (key, row)
            })
            .collect();
        rows.sort_by(|one, other| one.0.cmp(&other.0));
        rows.into_iter().map(|(_, row)| row).collect()
    }
}

/// Adds marks earned and marks lost of some parts.
fn add_marks_of<'a>(
    system: &mut held_back::System,
    parts: impl Iterator<Item = &'a counted::Counted>,
) {
    let (earned, lost) = parts.map(counted::Counted::marks).unzip();
    system.layer(held_back::Quantity::Earned, earned);
    system.layer(held_back::Quantity::Lost, lost);
}

fn in_order(rows: &Rows) -> Vec<&Entered> {
    rows.values().collect()
}

/// The entries of groups with their pupils, by name.
fn named(keys: &[group::Key], rows: &Rows) -> BTreeMap<group::Key, (held_back::EntryId, u64)> {
    let rows = rows.iter();
    rows.filter_map(|(number, row)| {
        let key = keys.get(*number)?.clone();
        Some((key, (row.entry, row.counted.pupils().len())))
    })
    .collect()
}

/// Whether a table may tell answers by what became of them.
fn answers<'a>(
    rows: impl IntoIterator<Item = &'a Entered>,
    told: &held_back::Protected,
) -> count::Answers {
    let mut rows = rows.into_iter();
    let is_held_back = |row: &Entered| match told.of(row.entry) {
        held_back::Told::HeldBack(_) => true,
        held_back::Told::InFull | held_back::Told::NumbersOnly => false,
    };
    if rows.any(is_held_back) {
        count::Answers::NotTold
    } else {
        count::Answers::Told
    }
}

/// The rows of one table.
fn table(keys: &[group::Key], rows: &Rows, told: &held_back::Protected) -> Vec<attainment::Row> {
    let answers = answers(rows.values(), told);
    let rows = rows.iter();
    rows.filter_map(|(number, entered)| {
        let key = keys.get(*number)?;
        Some(row(&key.label, String::new(), entered, told, answers))
    })
    .collect()
}

fn row(
    label: &str,
    about: String,
    entered: &Entered,
    told: &held_back::Protected,
    answers: count::Answers,
) -> attainment::Row {
    let tally = entered.counted.tally();
    attainment::Row {
        label: label.to_owned(),
        about,
        shown: count::Shown::of(&tally, told.of(entered.entry), answers),
    }
}

/// A grid of skills by the groups of one table.
fn told_grid(
    columns: &[group::Key],
    skills: &[group::Key],
    cells: &Cells,
    told: &held_back::Protected,
) -> grid::Grid {
    let cell = |column: usize, skill: usize| {
        let entered = cells.get(&(column, skill))?;
        let tally = entered.counted.tally();
        let told = told.of(entered.entry);
        Some(count::Shown::of(&tally, told, count::Answers::NotTold))
    };
    let asked = |skill: &usize| (0..columns.len()).any(|it| cells.contains_key(&(it, *skill)));
    grid::Grid {
        columns: columns.iter().map(|key| key.label.clone()).collect(),
        rows: (0..skills.len())
            .filter(asked)
            .map(|skill| grid::Row {
                label: skills[skill].label.clone(),
                cells: (0..columns.len()).map(|it| cell(it, skill)).collect(),
            })
            .collect(),
    }
}

#[cfg(test)]
mod tests;
