//! Ideas that explain an answer: what a pupil may say when asked why.
//!
//! An idea is a true statement about gears of some kind. Which ideas explain the
//! answer to a question about one mechanism, [`Reasons`] says; they are worked out
//! from the mechanism and stand in no bank.
//!
//! Source of the list: our own, from the ways of thinking that the misconceptions
//! report and from what the worked solutions say; no published list for these ages
//! was found.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::number;

/// A statement about gears that may explain an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Idea {
    /// The smaller of two turns faster.
    SmallerFaster,
    /// The teeth say how many times faster or stronger.
    TeethGiveTimes,
    /// The same number of teeth passes on both.
    TeethPassAlike,
    /// Equal sizes turn alike.
    SameSizeSameSpeed,
    /// What is fixed to one axle turns together.
    OneAxleTogether,
    /// A gear between does not change the speed.
    BetweenKeepsSpeed,
    /// Stages build up.
    StagesBuildUp,
    /// A worm moves its wheel on by a tooth a turn.
    WormToothByTooth,
    /// Movement does not run out along the gears.
    MovementDoesNotFade,
    /// The bigger of two turns with more force.
    BiggerStronger,
    /// What turns slower turns with more force.
    SlowerStronger,
    /// Gears that mesh turn opposite ways.
    MeshOpposite,
    /// Teeth in mesh push each other along.
    TeethPush,
    /// A gear between turns the direction back.
    BetweenTurnsBack,
    /// The direction changes at each mesh; odd or even decides.
    OddEven,
    /// A chain or an open belt keeps the direction.
    ChainKeeps,
    /// A crossed belt turns the direction round.
    CrossedTurns,
    /// A ring gear turns the same way as the gear inside it.
    RingKeeps,
    /// A rack moves as the teeth that touch it.
    RackAlong,
    /// An odd number of gears in a closed loop locks.
    OddLoop,
    /// An even number of gears in a closed loop can turn.
    EvenLoop,
    /// One gear would have to turn both ways at once.
    BothWaysAtOnce,
    /// A row with open ends can turn.
    OpenRow,
    /// Teeth of different sizes do not fit.
    ToothSizesDiffer,
    /// Teeth of one size fit.
    ToothSizesAlike,
    /// A gear cannot drive its worm.
    WormNotDriven,
}

/// What an idea is called.
struct Words {
    idea: Idea,
    id: &'static str,
    name: &'static str,
    wrong: &'static str,
}

const fn words(idea: Idea, id: &'static str, name: &'static str, wrong: &'static str) -> Words {
    Words {
        idea,
        id,
        name,
        wrong,
    }
}

/// Every idea with its words, in the order of [`Idea`].
const WORDS: [Words; 26] = [
    words(
        Idea::SmallerFaster,
        "smaller-faster",
        "the smaller one, with fewer teeth, turns faster",
        "the bigger one turns faster",
    ),
    words(
        Idea::TeethGiveTimes,
        "teeth-give-times",
        "the teeth say how many times as much",
        "another number of times",
    ),
    words(
        Idea::TeethPassAlike,
        "teeth-pass-alike",
        "the same number of teeth passes on both",
        "more teeth pass on one of them",
    ),
    words(
        Idea::SameSizeSameSpeed,
        "same-size-same-speed",
        "equal numbers of teeth turn alike",
        "one of two equal gears is different",
    ),
    words(
        Idea::OneAxleTogether,
        "one-axle-together",
        "what is fixed to one axle turns together",
        "parts on one axle turn differently",
    ),
    words(
        Idea::BetweenKeepsSpeed,
        "between-keeps-speed",
        "a gear between does not change the speed",
        "the gear between changes the speed",
    ),
    words(
        Idea::StagesBuildUp,
        "stages-build-up",
        "each stage changes the speed again",
        "the stages make no difference",
    ),
    words(
        Idea::WormToothByTooth,
        "worm-tooth-by-tooth",
        "one turn of the worm moves the wheel on by a tooth for each start",
        "the worm moves the wheel on by many teeth",
    ),
    words(
        Idea::MovementDoesNotFade,
        "movement-does-not-fade",
        "the place in the row does not decide",
        "what comes first or last decides",
    ),
    words(
        Idea::BiggerStronger,
        "bigger-stronger",
        "the bigger one turns with more force",
        "the smaller one turns with more force",
    ),
    words(
        Idea::SlowerStronger,
        "slower-stronger",
        "what turns slower turns with more force",
        "what turns faster turns with more force",
    ),
    words(
        Idea::MeshOpposite,
        "mesh-opposite",
        "gears that mesh turn opposite ways",
        "all gears turn the same way",
    ),
    words(
        Idea::TeethPush,
        "teeth-push",
        "teeth that touch push each other along",
        "the teeth do not push each other",
    ),
    words(
        Idea::BetweenTurnsBack,
        "between-turns-back",
        "the gear between turns the direction back",
        "the gear between makes the last one turn the other way",
    ),
    words(
        Idea::OddEven,
        "odd-even",
        "the direction changes at each mesh, so odd or even decides",
        "odd and even swapped",
    ),
    words(
        Idea::ChainKeeps,
        "chain-keeps",
        "a chain or an open belt keeps the direction",
        "the chain or belt turns the direction round",
    ),
    words(
        Idea::CrossedTurns,
        "crossed-turns",
        "a crossed belt turns the direction round",
        "a belt always keeps the direction",
    ),
    words(
        Idea::RingKeeps,
        "ring-keeps",
        "a gear inside a ring turns the ring the same way",
        "the ring turns the other way",
    ),
    words(
        Idea::RackAlong,
        "rack-along",
        "the rack moves the way the teeth that touch it move",
        "the rack moves as if it lay on the other side",
    ),
    words(
        Idea::OddLoop,
        "odd-loop",
        "an odd number of gears in a closed loop locks",
        "a loop like this one can turn",
    ),
    words(
        Idea::EvenLoop,
        "even-loop",
        "an even number of gears in a closed loop can turn",
        "every closed loop locks",
    ),
    words(
        Idea::BothWaysAtOnce,
        "both-ways-at-once",
        "one gear would have to turn both ways at once",
        "every gear has a way to turn",
    ),
    words(
        Idea::OpenRow,
        "open-row",
        "a row with open ends can turn",
        "a row can lock like a loop",
    ),
    words(
        Idea::ToothSizesDiffer,
        "tooth-sizes-differ",
        "teeth of different sizes do not fit",
        "these teeth fit",
    ),
    words(
        Idea::ToothSizesAlike,
        "tooth-sizes-alike",
        "teeth of one size fit",
        "these teeth do not fit",
    ),
    words(
        Idea::WormNotDriven,
        "worm-not-driven",
        "a worm can drive its wheel, but the wheel cannot drive the worm",
        "the wheel can drive the worm",
    ),
];

impl Idea {
    /// Every idea.
    pub fn all() -> impl Iterator<Item = Self> {
        WORDS.iter().map(|words| words.idea)
    }

    /// Its name in files, such as `smaller-faster`.
    #[must_use]
    pub fn id(self) -> &'static str {
        self.words().id
    }

    /// What it says, for people.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.words().name
    }

    /// What somebody says who has it the wrong way round.
    #[must_use]
    pub fn wrong(self) -> &'static str {
        self.words().wrong
    }

    fn words(self) -> &'static Words {
        WORDS
            .iter()
            .find(|words| words.idea == self)
            .expect("every idea has its words")
    }
}

/// What explains the answer to a question about one mechanism.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reasons {
    /// The answer that is explained.
    pub conclusion: Box<ask::Fact>,
    /// The ideas that earn marks, what is plainest first.
    pub key: Vec<Idea>,
    /// Ideas that are true here too, but do not explain the answer.
    pub beside: Vec<Idea>,
    /// What the answer turns on.
    pub ground: Ground,
}

/// What an answer turns on, as far as an explanation may speak of it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Ground {
    /// The parts along the way asked about, or round the closed loop, in order.
    pub along: Vec<mechanism::PartId>,
    /// How often the direction changes on the way.
    pub changes: usize,
    /// How many times as much each stage gives, and all of them together; each is
    /// one or more.
    pub times: Vec<number::Number>,
    /// The two tooth sizes that do not fit, in millimetres.
    pub tooth_sizes_mm: Vec<number::Number>,
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_idea_has_words_of_its_own() {
        let ideas: BTreeSet<Idea> = Idea::all().collect();
        assert_eq!(ideas.len(), WORDS.len());
        let told = |text: fn(&Words) -> &'static str| -> usize {
            WORDS.iter().map(text).collect::<BTreeSet<&str>>().len()
        };
        assert_eq!(told(|words| words.id), WORDS.len());
        assert_eq!(told(|words| words.name), WORDS.len());
        assert_eq!(told(|words| words.wrong), WORDS.len());
        assert!(Idea::all().is_sorted());
        assert!(ideas.contains(&Idea::WormNotDriven));
    }
}
