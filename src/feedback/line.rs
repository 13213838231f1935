//! The lines of a note and of a class page that a school can change.

/// A line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) enum Line {
    /// Above what a pupil can do.
    Can,
    /// What was right, where no skill can be named.
    Right,
    /// Where nothing was right.
    Tried,
    /// Where there is no work.
    Absent,
    /// Where there need not be any.
    Excused,
    /// Where every answer is blank.
    Blank,
    /// Where every answer waits for a look.
    Waiting,
    /// Where everything is right.
    AllRight,
    /// Where what is answered is right.
    RightSoFar,
    /// Where what is settled is right, and the rest waits.
    RightAndWaiting,
    /// Above what to practise.
    Practise,
    /// Above what to do where there is nothing to practise.
    Further,
    /// What to do where everything is right.
    Stretch,
    /// What to do where something is left.
    GoOn,
    /// What to do where nothing is begun.
    Begin,
    /// Where answers fit several ways of thinking.
    Several,
    /// Above an example in other numbers.
    Example,
    /// Above an example in the same numbers.
    ExampleSame,
    /// The answer of an example.
    Answer,
    /// The marks.
    Marks,
    /// Who may see the class page.
    Private,
    /// Above what went well.
    Well,
    /// One skill that went well.
    WellSkill,
    /// Where no skill stands out.
    WellNone,
    /// Above what to teach again.
    Again,
    /// Where there is nothing to teach again.
    AgainNone,
    /// A way of thinking to teach against.
    AgainIdea,
    /// A skill to teach again.
    AgainSkill,
    /// Before the names of those who need it.
    Who,
    /// Above the question to do together.
    Together,
    /// How to do it together.
    Ask,
    /// What somebody with the way of thinking would say.
    WouldSay,
    /// Before the names of those without work.
    Away,
    /// Before the names of those who were excused.
    Spared,
    /// Before the names of those with nothing but blanks.
    Empty,
    /// That answers wait for a look.
    StillWaiting,
}

/// What is known of a line.
pub(super) struct Known {
    pub(super) line: Line,
    /// The table it stands in.
    pub(super) table: &'static str,
    pub(super) key: &'static str,
    /// When it is said.
    pub(super) meaning: &'static str,
    /// The places that it must have.
    pub(super) places: &'static [&'static str],
    pub(super) usual: &'static str,
}

const NOTE: &str = "note";
const CLASS: &str = "class";

/// Every line, in the order of a file.
pub(super) const LINES: &[Known] = &[
    Known {
        line: Line::Can,
        table: NOTE,
        key: "can",
        meaning: "Above what a pupil can do; the `can` of each skill follows.",
        places: &[],
        usual: "You can:",
    },
    Known {
        line: Line::Right,
        table: NOTE,
        key: "right",
        meaning: "What was right, where no skill can be named.",
        places: &["questions"],
        usual: "You got this right: {questions}.",
    },
    Known {
        line: Line::Tried,
        table: NOTE,
        key: "tried",
        meaning: "Where nothing was right.",
        places: &[],
        usual: "You had a go. That is how learning starts.",
    },
    Known {
        line: Line::Absent,
        table: NOTE,
        key: "absent",
        meaning: "For a pupil who was absent, or handed in nothing.",
        places: &[],
        usual: "There is no work from you this time. Here is a start for you.",
    },
    Known {
        line: Line::Excused,
        table: NOTE,
        key: "excused",
        meaning: "For a pupil who was excused.",
        places: &[],
        usual: "You did not need to do this homework.",
    },
    Known {
        line: Line::Blank,
        table: NOTE,
        key: "blank",
        meaning: "Where every answer is blank.",
        places: &[],
        usual: "Your answers are still to come. Everybody can start with one question.",
    },
    Known {
        line: Line::Waiting,
        table: NOTE,
        key: "waiting",
        meaning: "Where every answer still waits for a person's look.",
        places: &[],
        usual: "Your teacher is still reading your answers.",
    },
    Known {
        line: Line::AllRight,
        table: NOTE,
        key: "all_right",
        meaning: "Where every question is answered and right.",
        places: &[],
        usual: "Everything is right.",
    },
    Known {
        line: Line::RightSoFar,
        table: NOTE,
        key: "right_so_far",
        meaning: "Where what is marked is right, and some questions were not reached.",
        places: &[],
        usual: "All right as far as you came.",
    },
    Known {
        line: Line::RightAndWaiting,
        table: NOTE,
        key: "right_and_waiting",
        meaning: "Where what is marked is right, and the rest still waits for a person's look.",
        places: &[],
        usual: "Everything marked so far is right. Your teacher is still reading the rest.",
    },
    Known {
        line: Line::Practise,
        table: NOTE,
        key: "practise",
        meaning: "Above what to practise.",
        places: &[],
        usual: "Practise this",
    },
    Known {
        line: Line::Further,
        table: NOTE,
        key: "further",
        meaning: "Above what to do next, where there is nothing to practise yet.",
        places: &[],
        usual: "What next",
    },
    Known {
        line: Line::Stretch,
        table: NOTE,
        key: "stretch",
        meaning: "What to do where everything is right.",
        places: &[],
        usual: "Make up a question like this one for a friend. Work it out yourself first.",
    },
    Known {
        line: Line::GoOn,
        table: NOTE,
        key: "go_on",
        meaning: "What to do where some questions are left.",
        places: &[],
        usual: "Go on with the questions that are left. Take the last ones first next time.",
    },
    Known {
        line: Line::Begin,
        table: NOTE,
        key: "begin",
        meaning: "What to do where there is no answer yet.",
        places: &[],
        usual: "Read this one with somebody. Say aloud what happens first.",
    },
    Known {
        line: Line::Several,
        table: NOTE,
        key: "several",
        meaning: "Before what to try, where answers fit several ways of thinking.",
        places: &[],
        usual: "Say aloud how you worked these out.",
    },
    Known {
        line: Line::Example,
        table: NOTE,
        key: "example",
        meaning: "Above the worked example.",
        places: &[],
        usual: "One like it, worked",
    },
    Known {
        line: Line::ExampleSame,
        table: NOTE,
        key: "example_same",
        meaning: "Above the worked example, where no other numbers fit.",
        places: &["question"],
        usual: "Question {question}, worked",
    },
    Known {
        line: Line::Answer,
        table: NOTE,
        key: "answer",
        meaning: "The answer of the worked example.",
        places: &["answer"],
        usual: "Answer: {answer}",
    },
    Known {
        line: Line::Marks,
        table: NOTE,
        key: "marks",
        meaning: "The marks; told only with --marks.",
        places: &["marks", "out_of"],
        usual: "Marks: {marks} out of {out_of}",
    },
    Known {
        line: Line::Private,
        table: CLASS,
        key: "private",
        meaning: "Who may see the class page.",
        places: &[],
        usual: "This page names pupils. It is for the class's own teacher only.",
    },
    Known {
        line: Line::Well,
        table: CLASS,
        key: "well",
        meaning: "Above what went well.",
        places: &[],
        usual: "What went well",
    },
    Known {
        line: Line::WellSkill,
        table: CLASS,
        key: "well_skill",
        meaning: "One skill that went well.",
        places: &["skill", "marks", "out_of"],
        usual: "{skill}: {marks} of {out_of} marks earned",
    },
    Known {
        line: Line::WellNone,
        table: CLASS,
        key: "well_none",
        meaning: "Where no skill went well yet.",
        places: &[],
        usual: "No skill is sure yet. The notes say what each pupil can do.",
    },
    Known {
        line: Line::Again,
        table: CLASS,
        key: "again",
        meaning: "Above what to teach again: three things at most.",
        places: &[],
        usual: "What to teach again",
    },
    Known {
        line: Line::AgainNone,
        table: CLASS,
        key: "again_none",
        meaning: "Where there is nothing to teach again.",
        places: &[],
        usual: "Nothing stands out.",
    },
    Known {
        line: Line::AgainIdea,
        table: CLASS,
        key: "again_idea",
        meaning: "A way of thinking that answers are consistent with, such as \"adds the teeth\".",
        places: &["idea"],
        usual: "Answers are consistent with somebody who {idea}",
    },
    Known {
        line: Line::AgainSkill,
        table: CLASS,
        key: "again_skill",
        meaning: "A skill of two marks or more in which pupils lost more than half of them.",
        places: &["skill"],
        usual: "{skill}: more than half of the marks lost",
    },
    Known {
        line: Line::Who,
        table: CLASS,
        key: "who",
        meaning: "Before the names of those who need it.",
        places: &[],
        usual: "Who needs it:",
    },
    Known {
        line: Line::Together,
        table: CLASS,
        key: "together",
        meaning: "Above the question to do together.",
        places: &[],
        usual: "One question to do together",
    },
    Known {
        line: Line::Ask,
        table: CLASS,
        key: "ask",
        meaning: "How to do it together.",
        places: &[],
        usual: "Let everybody write down a prediction first. Then work it through and compare.",
    },
    Known {
        line: Line::WouldSay,
        table: CLASS,
        key: "would_say",
        meaning: "The answer that the way of thinking leads to.",
        places: &["idea", "answer"],
        usual: "Somebody who {idea} would say: {answer}.",
    },
    Known {
        line: Line::Away,
        table: CLASS,
        key: "away",
        meaning: "Before the names of those who were absent, or handed in nothing.",
        places: &[],
        usual: "No work from:",
    },
    Known {
        line: Line::Spared,
        table: CLASS,
        key: "excused",
        meaning: "Before the names of those who were excused.",
        places: &[],
        usual: "Excused:",
    },
    Known {
        line: Line::Empty,
        table: CLASS,
        key: "blank",
        meaning: "Before the names of those whose answers are all blank.",
        places: &[],
        usual: "All answers blank:",
    },
    Known {
        line: Line::StillWaiting,
        table: CLASS,
        key: "waiting",
        meaning: "That answers wait for a person's look, and how many.",
        places: &["count"],
        usual: "Answers that still wait for a person's look, and count neither way here: {count}.",
    },
];
