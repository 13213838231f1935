//! What can be typed at the command line, and its help.
//!
//! Only shapes and words: whether a file is there, or a bank is sound, the
//! commands find out.

use crate::date;
use crate::need;
use crate::number;
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Everything that can be typed.
#[derive(Debug, Clone, PartialEq, Eq, Parser)]
#[command(
    name = "toothmark",
    version,
    about = "Sets, marks and reviews pupils' work on gears.",
    long_about = "Sets, marks and reviews pupils' work on gears (ages 5 to 14).\n\n\
        A homework goes three steps: `set` makes the sheets and an answer workbook, \
        `mark` marks the filled-in workbook, `review` looks over many marked homeworks. \
        Everything stays on this computer.",
    after_help = "Try it on an invented class:  toothmark tour\n\
        More about one command:       toothmark help set",
    arg_required_else_help = true,
    max_term_width = 100
)]
pub struct CommandLine {
    /// Say less: only results and problems.
    #[arg(long, short, global = true)]
    pub quiet: bool,
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What to do.
#[derive(Debug, Clone, PartialEq, Eq, Subcommand)]
pub enum Command {
    /// Set a homework: sheets to print, a mark scheme and an answer workbook
    Set(SetArguments),
    /// Mark a filled-in answer workbook
    Mark(MarkArguments),
    /// Review marked homeworks over classes, years and terms
    Review(ReviewArguments),
    /// Write feedback on paper from a marked homework: a page for the class, notes to stick in
    Feedback(FeedbackArguments),
    /// Make task cards for work with real gears: predict, try, explain
    Cards(CardsArguments),
    /// Look at question banks and find what is wrong with them
    Bank(BankArguments),
    /// Work out a mechanism of your own, in words and as a table
    Solve(SolveArguments),
    /// Show a homework on the classroom screen, with its mechanisms turning
    Show(ShowArguments),
    /// Take a pupil out of records and results
    Forget(ForgetArguments),
    /// See it all once: set, mark and review an invented class
    Tour(TourArguments),
    /// Write manual pages, and completions for shells
    Manual(ManualArguments),
}

/// What `set` takes.
#[derive(Debug, Clone, PartialEq, Eq, Args)]
#[command(after_help = "Examples:\n  \
    toothmark set --bank question-banks/gears-7-11.toml --roll maple.csv --level 3 --questions 10 --out week-12\n  \
    toothmark set --bank question-banks/gears-7-11.toml --roll maple.xlsx --level 3-5 \
    --skill turns --skill direction --questions 12 --versions each --seed spring --out week-13\n  \
    toothmark set --bank question-banks/gears-7-11.toml --roll maple.csv --level 3-5 \
    --questions 12 --after week-12 week-13 --out week-14\n\n\
    The roll is a csv, xlsx or ods file with the headings: pupil id, name, class, year.\n\
    A further heading `level` gives pupils a level of their own. The headings `print size`,\n\
    `spacing`, `tint`, `word card`, `answers apart` and `questions a page` say what a pupil\n\
    needs on paper; the options of those names are for the whole class, and what the roll says\n\
    of a pupil goes before them. Needs are used for printing only and kept nowhere.\n\
    Any other heading is a group.\n\n\
    --after gives each pupil a sheet of their own, by what they answered before: questions on\n\
    ways of thinking that showed twice, on skills that failed, on what was missed; secure skills\n\
    come back after a while, and levels move within --level. All sheets have the same marks.\n\
    The worksheet `Why these questions` of answers.xlsx says why.\n\n\
    Every file with pupils' names, answers or marks says until when to keep it; the day of\n\
    --keep-until goes into homework.json and from there into all that is made of it.")]
pub struct SetArguments {
    /// A question bank; more than one may be given
    #[arg(long, required = true, num_args = 1.., value_name = "FILE")]
    pub bank: Vec<PathBuf>,
    /// The class list: csv, xlsx or ods
    #[arg(long, value_name = "FILE")]
    pub roll: PathBuf,
    /// A level from 1 to 8, or a span such as 3-5
    #[arg(long, value_name = "L[-M]", value_parser = level_span)]
    pub level: LevelSpan,
    /// Only these skills; all of them if none is named
    #[arg(long, num_args = 1.., value_name = "SKILL", value_parser = SKILLS)]
    pub skill: Vec<String>,
    /// How many questions, or `all` for every template of the bank once
    #[arg(long, value_name = "N|all", value_parser = question_count)]
    pub questions: QuestionCount,
    /// Marked homeworks to go by: files named marked.json, or folders to search for them
    #[arg(long, num_args = 1.., value_name = "MARKED")]
    pub after: Vec<PathBuf>,
    /// A word that fixes the numbers, so that the same command gives the same sheets
    #[arg(long, value_name = "TEXT")]
    pub seed: Option<String>,
    /// The same numbers for everybody, or each pupil their own; always their own with --after
    #[arg(long, value_enum, default_value_t = Versions::Same)]
    pub versions: Versions,
    /// The title printed on the sheets
    #[arg(long, value_name = "TEXT")]
    pub title: Option<String>,
    /// Only the pupils of this year, as the roll writes it
    #[arg(long, value_name = "YEAR")]
    pub year: Option<String>,
    /// The date printed on the sheets; today if left out
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = iso_date)]
    pub date: Option<String>,
    /// The last day to keep the files; the end of the academic year (31 August) if left out
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub keep_until: Option<date::Date>,
    /// What the class needs on paper.
    #[command(flatten)]
    pub printing: PrintArguments,
    /// The folder to write into
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
}

/// What `set` takes for the printed sheets of all pupils of whom the roll says nothing else.
#[derive(Debug, Clone, PartialEq, Eq, Default, Args)]
#[command(next_help_heading = "How sheets are printed, where the roll says nothing else")]
pub struct PrintArguments {
    /// Type of 18 or 24 point on A4, or 36 point on A3
    #[arg(long, value_name = "POINT", value_parser = PRINT_SIZES)]
    pub print_size: Option<String>,
    /// How far letters, words and lines stand apart
    #[arg(long, value_name = "SPACING", value_parser = SPACINGS)]
    pub spacing: Option<String>,
    /// A pale colour behind the text
    #[arg(long, value_name = "COLOUR", value_parser = TINTS)]
    pub tint: Option<String>,
    /// A page with the words of the sheet, small drawings and what they mean
    #[arg(long)]
    pub word_card: bool,
    /// Answer spaces on a sheet of their own
    #[arg(long)]
    pub answers_apart: bool,
    /// At most so many questions on a page
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(1..=MOST_A_PAGE))]
    pub questions_a_page: Option<u8>,
}

impl PrintArguments {
    /// Returns what the class needs.
    #[must_use]
    pub fn needs(&self) -> need::Needs {
        let mut wishes = need::Wishes::default();
        let yes = |is_wanted: bool| is_wanted.then(|| "yes".to_owned());
        for (kind, text) in [
            (need::Kind::PrintSize, self.print_size.clone()),
            (need::Kind::Spacing, self.spacing.clone()),
            (need::Kind::Tint, self.tint.clone()),
            (need::Kind::WordCard, yes(self.word_card)),
            (need::Kind::AnswersApart, yes(self.answers_apart)),
            (
                need::Kind::QuestionsAPage,
                self.questions_a_page.map(|count| count.to_string()),
            ),
        ] {
            if let Some(text) = text {
                let is_read = wishes.take(kind, &text);
                debug_assert!(is_read, "{text} is one of the choices");
            }
        }
        wishes.over(need::Needs::default())
    }
}

/// What `mark` takes.
#[derive(Debug, Clone, PartialEq, Eq, Args)]
#[command(after_help = "Examples:\n  \
    toothmark mark week-12/answers.xlsx\n  \
    toothmark mark form-export.csv --homework week-12/homework.json --out week-12-marked\n  \
    toothmark mark week-12/late.csv\n  \
    toothmark mark week-12/answers.xlsx --decided marked-ab.xlsx\n  \
    toothmark mark week-12/answers.xlsx --second-look 10%\n  \
    toothmark mark --show-policy > our-policy.toml\n\n\
    Look at the sheet `To check` of marked.xlsx first. What you write under `Your mark`\n\
    is kept and used when you mark the same homework again.\n\n\
    Late work: mark a file with the late rows into the same folder. Pupils who are not in\n\
    it, and handed in with another file before, are kept.\n\n\
    --second-look writes second-look.xlsx for another person to mark, without marks or names.\n\
    Once it is filled in and back in the folder, mark again: the sheet `Second look` of\n\
    marked.xlsx says how far you agree.")]
pub struct MarkArguments {
    /// The filled-in answers: xlsx, xlsm, xls, ods or csv
    #[arg(value_name = "ANSWERS", required_unless_present = "show_policy")]
    pub answers: Option<PathBuf>,
    /// The homework's record; `homework.json` beside the answers if left out
    #[arg(long, value_name = "FILE")]
    pub homework: Option<PathBuf>,
    /// Another person's saved copy of marked.xlsx; more than one may be given
    #[arg(long, num_args = 1.., value_name = "FILE")]
    pub decided: Vec<PathBuf>,
    /// The school's marking policy; the usual one if left out
    #[arg(long, value_name = "FILE")]
    pub policy: Option<PathBuf>,
    /// Only write out the policy, every switch with what it says, as a file to start from
    #[arg(long, conflicts_with_all = ["answers", "homework", "decided", "out"])]
    pub show_policy: bool,
    /// The folder to write into; beside the answers if left out
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// A sample for a second marker.
    #[command(flatten)]
    pub second_look: SecondLookArguments,
}

/// What `mark` takes for a second marker.
#[derive(Debug, Clone, PartialEq, Eq, Default, Args)]
pub struct SecondLookArguments {
    /// Draw a blind sample for another person to mark: a share such as 0.1 or 10%
    #[arg(long = "second-look", value_name = "SHARE", value_parser = share)]
    pub share: Option<number::Number>,
    /// A word that fixes the sample, so that the same command draws the same answers
    #[arg(long, value_name = "TEXT", requires = "share", value_parser = sample_seed)]
    pub seed: Option<String>,
    /// The filled-in sample; `second-look` (xlsx, ods or xls) in the folder if left out
    #[arg(long, value_name = "FILE")]
    pub second_marks: Option<PathBuf>,
}

/// What `review` takes.
#[derive(Debug, Clone, PartialEq, Eq, Args)]
#[command(after_help = "Examples:\n  \
    toothmark review week-12 week-13 --out autumn\n  \
    toothmark review school-year --calendar terms.toml --bands our-bands.toml --out year-review\n  \
    toothmark review school-year --for-class \"5 Oak\" --out 5-oak\n\n\
    Folders are searched for files named marked.json.\n\n\
    It writes attainment.html (open it first: a page for any browser and for paper),\n\
    attainment.xlsx (the same as worksheets) and attainment.csv (one row a figure).\n\
    No pupil is named in them, and nothing is told of fewer than five.\n\
    With --for-class only class.xlsx is written: it names the pupils of\n\
    one class and is for its own teacher.\n\n\
    --parquet writes an answer a row, without names and ids, into the folder marks, with the SQL\n\
    beside it that gives the review's figures. It is about single pupils, and small groups can\n\
    be found in it: it is for the school's or trust's own warehouse only. Its folders go by the\n\
    calendar's academic years, without --calendar by those from 1 September to 31 August.")]
pub struct ReviewArguments {
    /// Marked homeworks: files named marked.json, or folders to search for them
    #[arg(required = true, value_name = "PATH")]
    pub paths: Vec<PathBuf>,
    /// The folder to write into
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// The school's policy; the usual one if left out
    #[arg(long, value_name = "FILE")]
    pub policy: Option<PathBuf>,
    /// The school's terms; homeworks are told by date if left out
    #[arg(long, value_name = "FILE", conflicts_with = "for_class")]
    pub calendar: Option<PathBuf>,
    /// The school's own bands; none are told if left out
    #[arg(long, value_name = "FILE", conflicts_with = "for_class")]
    pub bands: Option<PathBuf>,
    /// Curriculum statements to look for, more than one file may be given; England's if left out
    #[arg(long, num_args = 1.., value_name = "FILE", conflicts_with = "for_class")]
    pub curriculum: Vec<PathBuf>,
    /// Write the marks themselves too, as a Parquet data set for the school's own warehouse
    #[arg(long, conflicts_with = "for_class")]
    pub parquet: bool,
    /// Only this class, by name, for its own teacher
    #[arg(long, value_name = "CLASS")]
    pub for_class: Option<String>,
}

/// What `feedback` takes.
#[derive(Debug, Clone, PartialEq, Eq, Args)]
#[command(after_help = "Examples:\n  \
    toothmark feedback week-12/marked.json\n  \
    toothmark feedback week-12/marked.json --marks --out week-12-feedback\n  \
    toothmark feedback --show-words > our-words.toml\n  \
    toothmark feedback week-12/marked.json --words our-words.toml\n\n\
    It writes feedback.pdf: a page for the class's own teacher, then a note for each pupil\n\
    in roll order, four on a page, to cut out and stick in. Examples are worked in numbers\n\
    that no pupil had. Answers that wait for a person's look count neither way.")]
pub struct FeedbackArguments {
    /// A marked homework: its marked.json, or the folder where that is
    #[arg(value_name = "MARKED", required_unless_present = "show_words")]
    pub marked: Option<PathBuf>,
    /// The homework's record; `homework.json` beside the marks if left out
    #[arg(long, value_name = "FILE")]
    pub homework: Option<PathBuf>,
    /// The school's own words; the usual ones if left out
    #[arg(long, value_name = "FILE")]
    pub words: Option<PathBuf>,
    /// Only write out the words, every line with what it is for, as a file to start from
    #[arg(long, conflicts_with_all = ["marked", "homework", "marks", "seed", "out"])]
    pub show_words: bool,
    /// Tell the marks on the pupils' notes
    #[arg(long)]
    pub marks: bool,
    /// A word that fixes the numbers of the examples; the homework's code if left out
    #[arg(long, value_name = "TEXT")]
    pub seed: Option<String>,
    /// The folder to write into; beside the marks if left out
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

/// What `cards` takes.
#[derive(Debug, Clone, PartialEq, Eq, Args)]
#[command(after_help = "Examples:\n  \
    toothmark cards --level 3-4 --out cards\n  \
    toothmark cards --level 6 --skill gearboxes speed --out cards\n  \
    toothmark cards --show-tasks > our-tasks.toml\n  \
    toothmark cards --level 4 --tasks our-tasks.toml --out cards\n\n\
    It writes cards.pdf for pupils and cards-for-the-teacher.pdf with answers and cautions.\n\
    The cards approve nothing: your school's risk assessment and local rules come first.")]
pub struct CardsArguments {
    /// A level from 1 to 8, or a span such as 3-5
    #[arg(long, value_name = "L[-M]", value_parser = level_span, required_unless_present = "show_tasks")]
    pub level: Option<LevelSpan>,
    /// Only these skills; all of them if none is named
    #[arg(long, num_args = 1.., value_name = "SKILL", value_parser = SKILLS)]
    pub skill: Vec<String>,
    /// The school's own tasks; those that come with the program if left out
    #[arg(long, value_name = "FILE")]
    pub tasks: Option<PathBuf>,
    /// Only write out the tasks that come with the program, as a file to start from
    #[arg(long, conflicts_with_all = ["level", "skill", "tasks", "out"])]
    pub show_tasks: bool,
    /// The folder to write into
    #[arg(long, value_name = "DIR", required_unless_present = "show_tasks")]
    pub out: Option<PathBuf>,
}

/// What `bank` takes.
#[derive(Debug, Clone, PartialEq, Eq, Args)]
pub struct BankArguments {
    /// What to do with the banks.
    #[command(subcommand)]
    pub command: BankCommand,
}

/// What to do with banks.
#[derive(Debug, Clone, PartialEq, Eq, Subcommand)]
pub enum BankCommand {
    /// Find every fault, each with line and column and what to do
    #[command(after_help = "Example:\n  toothmark bank check question-banks/gears-7-11.toml")]
    Check(BankFiles),
    /// List the questions with their skill, levels and marks
    #[command(after_help = "Example:\n  toothmark bank list question-banks/*.toml")]
    List(BankFiles),
    /// Show every question once with its numbers drawn, and its answer
    #[command(after_help = "Example:\n  toothmark bank show question-banks/gears-5-7.toml")]
    Show(BankFiles),
}

/// Bank files.
#[derive(Debug, Clone, PartialEq, Eq, Args)]
pub struct BankFiles {
    /// Question banks
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
}

/// What `solve` takes.
#[derive(Debug, Clone, PartialEq, Eq, Args)]
#[command(after_help = "Examples:\n  \
    toothmark solve \"gear A 12 drives gear B 36\" \"A turns 9 clockwise\"\n  \
    toothmark solve \"gear A 12 drives gear B ?\" \"A turns 9\" \"B turns 3\" \"teeth of B\"\n  \
    toothmark solve \"handle H 300 mm, gear A 12 on one axle; A drives gear B 48;\n      \
    B, drum D 80 mm on one axle; force 20 N at H; force at D\"\n\n\
    Each argument is a line, or several with ; between them. Put it in quotes.\n\n\
    What there is:    gear A 12; ring R 60; bevel A 20; worm W 1 start; rack R; sprocket A 44;\n                  \
    pulley A 60 mm; handle H 300 mm; drum D 80 mm; roller W 660 mm; motor M;\n                  \
    dynamo D; carrier C\n\
    What joins them:  A drives B; A meshes with B; A, B on one axle; P rides on C;\n                  \
    A drives B by chain; A drives B by belt; A drives B by crossed belt\n\
    What is given:    A turns 9 clockwise; A runs at 120 rpm; R moves 120 mm left; R held still;\n                  \
    for 5 minutes; force 20 N at H; turning force 50 N cm on A;\n                  \
    efficiency 90 %; tooth size 2 mm; A and B 60 mm apart; C, D taken out\n\
    What to ask:      turns of B; speed of B; direction of B; same way A, B; faster of A, B;\n                  \
    stronger of A, B; ratio of turns A : B; teeth of B; force at D;\n                  \
    turning force of B; distance of R; centre distance of A, B;\n                  \
    tip diameter of A; tooth size of A; will it turn; name of C; job of B;\n                  \
    stages for 27; meet again A, B; choose A, B from 8, 16, 24")]
pub struct SolveArguments {
    /// Lines that describe the mechanism, and what to ask about it
    #[arg(
        required = true,
        value_name = "MECHANISM",
        allow_negative_numbers = true
    )]
    pub mechanism: Vec<String>,
    /// Draw it as well, into a file that ends in .svg, .png or .pdf
    #[arg(long, value_name = "FILE")]
    pub drawing: Option<PathBuf>,
}

/// What `show` takes.
#[derive(Debug, Clone, PartialEq, Eq, Args)]
#[command(after_help = "Examples:\n  \
    toothmark show week-12 --out week-12/screen.html\n  \
    toothmark show week-12/homework.json --sheet B --out screen.html\n\n\
    Open the page in a browser. It stands alone, asks nothing of any network and names no\n\
    pupil; answers are hidden until asked for.")]
pub struct ShowArguments {
    /// The homework's record, or the folder with its homework.json
    #[arg(value_name = "HOMEWORK")]
    pub homework: PathBuf,
    /// The version of the sheet to show; the first if left out
    #[arg(long, value_name = "VERSION")]
    pub sheet: Option<String>,
    /// The pupil whose sheet to show, by id
    #[arg(long, value_name = "ID", conflicts_with = "sheet")]
    pub pupil: Option<String>,
    /// The page to write
    #[arg(long, value_name = "FILE")]
    pub out: PathBuf,
}

/// What `forget` takes.
#[derive(Debug, Clone, PartialEq, Eq, Args)]
#[command(after_help = "Example:\n  \
    toothmark forget 5R104 week-12 week-13 --dry-run\n\n\
    Takes the pupil out of homework.json, marked.json, marked.xlsx and marks.csv in these folders\n\
    and below them, with answers, marks and what was decided about them alone, and says what it\n\
    did. Other files that name the pupil are told: those that Toothmark made (dated copies, pages\n\
    to print) are deleted with --delete-too, the school's own are left to you.")]
pub struct ForgetArguments {
    /// The pupil's id, as the roll has it
    #[arg(value_name = "PUPIL-ID")]
    pub pupil_id: String,
    /// Files and folders to look in
    #[arg(required = true, num_args = 1.., value_name = "PATH")]
    pub paths: Vec<PathBuf>,
    /// The pupil's name, where two pupils have the id
    #[arg(long, value_name = "NAME")]
    pub name: Option<String>,
    /// Also delete files that Toothmark made and that still name the pupil
    #[arg(long)]
    pub delete_too: bool,
    /// Only say what would be done
    #[arg(long)]
    pub dry_run: bool,
}

/// What `manual` takes.
#[derive(Debug, Clone, PartialEq, Eq, Args)]
#[command(after_help = "Example:\n  toothmark manual --out manual")]
pub struct ManualArguments {
    /// The folder to write into
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
}

/// What `tour` takes.
#[derive(Debug, Clone, PartialEq, Eq, Args)]
#[command(after_help = "Example:\n  toothmark tour --out look-round")]
pub struct TourArguments {
    /// The folder to write into
    #[arg(long, value_name = "DIR", default_value = "tour")]
    pub out: PathBuf,
}

/// Whose numbers differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Versions {
    /// Everybody has the same numbers
    Same,
    /// Each pupil has their own numbers
    Each,
}

/// A level, or several in a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LevelSpan {
    /// The lowest, from 1.
    pub lowest: u8,
    /// The highest, to 8.
    pub highest: u8,
}

/// How many questions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum QuestionCount {
    /// Every template of the bank once, in the file's order.
    All,
    /// So many.
    Number(u32),
}

/// The skills as they are typed.
pub const SKILLS: [&str; 11] = [
    "naming",
    "direction",
    "faster-slower",
    "turns",
    "ratio",
    "speed",
    "turning-force",
    "distance",
    "gearboxes",
    "choosing",
    "will-it-work",
];

/// The sizes of type as they are typed.
pub const PRINT_SIZES: [&str; 4] = ["usual", "18", "24", "36"];
/// The spacings as they are typed.
pub const SPACINGS: [&str; 2] = ["usual", "wide"];
/// The tints as they are typed.
pub const TINTS: [&str; 7] = ["none", "cream", "yellow", "peach", "pink", "blue", "green"];
/// The most questions on a page that can be asked for.
const MOST_A_PAGE: i64 = 20;

/// The largest denominator of a share.
const FINEST_SHARE: u128 = 1_000_000;
/// The most characters of a sample's seed.
const LONGEST_SEED: usize = 60;

fn level_span(text: &str) -> Result<LevelSpan, String> {
    let wrong = || "wanted a level from 1 to 8, such as 4, or a span such as 3-5".to_owned();
    let level = |text: &str| {
        let level: u8 = text.trim().parse().map_err(|_| wrong())?;
        if (1..=8).contains(&level) {
            Ok(level)
        } else {
            Err(wrong())
        }
    };
    let (lowest, highest) = match text.split_once('-') {
        Some((lowest, highest)) => (level(lowest)?, level(highest)?),
        None => (level(text)?, level(text)?),
    };
    if lowest <= highest {
        Ok(LevelSpan { lowest, highest })
    } else {
        Err(format!(
            "wanted the lower level first, such as {highest}-{lowest}"
        ))
    }
}

fn question_count(text: &str) -> Result<QuestionCount, String> {
    if text.eq_ignore_ascii_case("all") {
        return Ok(QuestionCount::All);
    }
    match text.parse::<u32>() {
        Ok(count) if (1..=100).contains(&count) => Ok(QuestionCount::Number(count)),
        Ok(_) | Err(_) => Err("wanted a number from 1 to 100, or all".to_owned()),
    }
}

/// Reads a share above 0 and not over 1, told as a number, a fraction or a percentage.
fn share(text: &str) -> Result<number::Number, String> {
    let wrong = || "wanted a share above 0 and not over 1, such as 0.1 or 10%".to_owned();
    let text = text.trim();
    let share = match text.strip_suffix('%') {
        Some(percent) => percent
            .trim_end()
            .parse::<number::Number>()
            .and_then(|percent| percent.divided_by(number::Number::whole(100))),
        None => text.parse(),
    };
    let share = share.map_err(|_| wrong())?;
    if !share.is_positive() || share > number::Number::ONE {
        return Err(wrong());
    }
    if share.denominator() > FINEST_SHARE {
        return Err("wanted a share with at most six decimal places".to_owned());
    }
    Ok(share)
}

/// Reads a seed that a person can copy from one place to another and type again.
fn sample_seed(text: &str) -> Result<String, String> {
    let text = text.trim();
    let starts_well = text.starts_with(char::is_alphanumeric);
    let is_long = text.chars().count() > LONGEST_SEED;
    if !starts_well || is_long || text.contains(char::is_control) {
        return Err(format!(
            "wanted a word or two of at most {LONGEST_SEED} characters, \
             beginning with a letter or digit"
        ));
    }
    Ok(text.to_owned())
}

/// Checks a date's shape and that the calendar has it.
fn iso_date(text: &str) -> Result<String, date::DateError> {
    text.parse::<date::Date>().map(|_| text.to_owned())
}

#[cfg(test)]
mod tests;
