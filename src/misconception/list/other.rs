//! Ways of thinking about sizes, counts, names and jobs.

use crate::misconception;
use crate::misconception::list;

pub(in crate::misconception) static HALF_FORGOTTEN: misconception::Misconception =
    misconception::Misconception {
        id: "half-left-out",
        name: "leaves out the half (or the two) of the centre distance",
        source: list::NO_SOURCE,
        gives: "whole diameters in place of radii: the 2 is missing",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "Teeth and tooth size are used rightly; the half is missing.",
        slip: false,
        say: "You used whole diameters. From centre to centre there are two radii.",
        next: "Draw a line from centre to centre and mark each radius.",
    };

pub(in crate::misconception) static PARTNER_NOT_TAKEN_OFF: misconception::Misconception =
    misconception::Misconception {
        id: "partner-not-taken-off",
        name: "gives the teeth of both gears together",
        source: list::NO_SOURCE,
        gives: "2 × distance ÷ tooth size, the known teeth not taken off",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The teeth of both gears together are right.",
        slip: false,
        say: "That is how many teeth the two gears have together.",
        next: "Take away the teeth that you know.",
    };

pub(in crate::misconception) static TOOTH_SIZE_FORGOTTEN: misconception::Misconception =
    misconception::Misconception {
        id: "tooth-size-left-out",
        name: "leaves the tooth size out",
        source: list::NO_SOURCE,
        gives: "teeth alone, the tooth size left out",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The teeth are used rightly; the tooth size is missing.",
        slip: false,
        say: "You used the teeth well. Now bring in how big each tooth is.",
        next: "Diameter is teeth times tooth size.",
    };

pub(in crate::misconception) static SUM_AND_DIFFERENCE_MIXED: misconception::Misconception =
    misconception::Misconception {
        id: "inside-outside-mixed",
        name: "adds where a ring needs a difference, or the other way round",
        source: list::NO_SOURCE,
        gives: "sum of teeth for difference, or difference for sum",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "Teeth and tooth size are used rightly; plus and minus are mixed up.",
        slip: false,
        say: "Check whether one gear lies inside the other.",
        next: "Draw the two centres and see whether the radii go the same way.",
    };

pub(in crate::misconception) static DIVIDES_BY_TOOTH_SIZE: misconception::Misconception =
    misconception::Misconception {
        id: "divides-by-tooth-size",
        name: "divides by the tooth size",
        source: list::NO_SOURCE,
        gives: "teeth ÷ tooth size",
        credit: misconception::Credit::None,
        credit_reason: "That bigger teeth make a bigger gear is missed.",
        slip: false,
        say: "A bigger tooth size makes a bigger gear, so it multiplies.",
        next: "Think of the same gear with teeth twice as big.",
    };

pub(in crate::misconception) static PITCH_FOR_OTHER_DIAMETER: misconception::Misconception =
    misconception::Misconception {
        id: "pitch-for-other-diameter",
        name: "gives the pitch diameter instead",
        source: list::NO_SOURCE,
        gives: "teeth × tooth size, nothing added or taken off",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The pitch diameter is right; the step to the other circle is missing.",
        slip: false,
        say: "That is the circle half way down the teeth. The question asks for another circle.",
        next: "Colour the circle that is asked for in the drawing.",
    };

pub(in crate::misconception) static ONE_SIDE_ONLY: misconception::Misconception =
    misconception::Misconception {
        id: "one-side-only",
        name: "adds or takes away on one side only",
        source: list::NO_SOURCE,
        gives: "pitch diameter with the change of one side, not of both",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The pitch diameter is right, and so is the change at one side.",
        slip: false,
        say: "You changed the diameter at one side. It changes at both sides.",
        next: "Draw the diameter right across and mark both ends.",
    };

pub(in crate::misconception) static TEETH_AND_MILLIMETRES_MIXED: misconception::Misconception =
    misconception::Misconception {
        id: "tooth-sizes-and-millimetres-mixed",
        name: "adds millimetres where tooth sizes are meant",
        source: list::NO_SOURCE,
        gives: "pitch diameter + 2 mm or - 2.5 mm, not tooth sizes",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The pitch diameter is right; the unit of the change is not.",
        slip: false,
        say: "You added millimetres. The rule counts in tooth sizes.",
        next: "Multiply by the tooth size at the end.",
    };

pub(in crate::misconception) static ONE_GEAR_ONLY: misconception::Misconception =
    misconception::Misconception {
        id: "one-gear-only",
        name: "uses the teeth of one gear only",
        source: list::NO_SOURCE,
        gives: "2 × distance ÷ teeth of one gear",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "Distance and teeth are compared the right way; one gear is missing.",
        slip: false,
        say: "Both gears lie between the two centres.",
        next: "Add the teeth of both gears.",
    };

pub(in crate::misconception) static PRODUCT_FOR_MULTIPLE: misconception::Misconception =
    misconception::Misconception {
        id: "multiplies-the-teeth",
        name: "multiplies the teeth instead of finding the lowest common multiple",
        source: list::NO_SOURCE,
        gives: "the other gear's teeth: teeth × teeth ÷ teeth",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The marks do meet then, but not for the first time.",
        slip: false,
        say: "The marks do meet then, but they may have met before.",
        next: "Write the multiples of both numbers and find the first one in both lists.",
    };

pub(in crate::misconception) static TURNS_OF_THE_OTHER: misconception::Misconception =
    misconception::Misconception {
        id: "turns-of-the-other-gear",
        name: "gives the turns of the other gear",
        source: list::NO_SOURCE,
        gives: "lowest common multiple ÷ the other gear's teeth",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The lowest common multiple is found.",
        slip: false,
        say: "That is how often the other gear turns.",
        next: "Underline the letter of the gear in the question.",
    };

pub(in crate::misconception) static TEETH_FOR_TURNS: misconception::Misconception =
    misconception::Misconception {
        id: "teeth-for-turns",
        name: "gives teeth where turns are asked",
        source: list::NO_SOURCE,
        gives: "the lowest common multiple of the teeth",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The lowest common multiple is found; the turns are missing.",
        slip: false,
        say: "You found how many teeth go past. Now find how many turns that is.",
        next: "Divide by the teeth of the gear asked about.",
    };

pub(in crate::misconception) static NAMES_MIXED: misconception::Misconception =
    misconception::Misconception {
        id: "names-mixed-up",
        name: "mixes two names up",
        source: list::NO_SOURCE,
        gives: "the name of a part that looks or works alike",
        credit: misconception::Credit::None,
        credit_reason: "The name is all that is asked.",
        slip: false,
        say: "These two names are easy to mix up.",
        next: "Make a card for each with a drawing on one side and the name on the other.",
    };

pub(in crate::misconception) static ALL_WHEELS_ALIKE: misconception::Misconception =
    misconception::Misconception {
        id: "all-wheels-alike",
        name: "calls every toothed wheel a spur gear",
        source: list::NO_SOURCE,
        gives: "spur gear, for every wheel with teeth",
        credit: misconception::Credit::None,
        credit_reason: "The name is all that is asked.",
        slip: false,
        say: "It has teeth like a spur gear. Look at where the teeth are and what it touches.",
        next: "Say what is special about it: inside, slanted, or with a chain.",
    };

pub(in crate::misconception) static JOBS_SWAPPED: misconception::Misconception =
    misconception::Misconception {
        id: "jobs-swapped",
        name: "swaps drive gear and driven gear",
        source: list::NO_SOURCE,
        gives: "drive gear for driven gear, or the other way round",
        credit: misconception::Credit::None,
        credit_reason: "The job is all that is asked.",
        slip: false,
        say: "The drive gear is the one that is turned. It turns the driven gear.",
        next: "Ask: who pushes, and who is pushed?",
    };

pub(in crate::misconception) static IDLER_OVERLOOKED: misconception::Misconception =
    misconception::Misconception {
        id: "idler-overlooked",
        name: "overlooks that the gear stands between two others",
        source: list::NO_SOURCE,
        gives: "drive gear or driven gear, for one that is both",
        credit: misconception::Credit::None,
        credit_reason: "The job is all that is asked.",
        slip: false,
        say: "This gear is pushed by one gear and pushes another.",
        next: "Look on both sides of the gear.",
    };
