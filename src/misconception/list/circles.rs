//! Ways of thinking about travel and time.

use crate::misconception;
use crate::misconception::list;

pub(in crate::misconception) static DRUM_TURNS_AS_HANDLE: misconception::Misconception =
    misconception::Misconception {
        id: "gears-before-drum-left-out",
        name: "takes the last axle to turn as often as the first",
        source: list::NO_SOURCE,
        gives: "travel of one turn × the handle's turns, gears left out",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The travel of one turn is used rightly; the gears are left out.",
        slip: false,
        say: "You used the travel for one turn well. The gears change how many turns there are.",
        next: "First find how often the last axle turns, then how far that goes.",
    };

pub(in crate::misconception) static RADIUS_FOR_DIAMETER: misconception::Misconception =
    misconception::Misconception {
        id: "radius-for-diameter",
        name: "mixes radius and diameter",
        source: list::NO_SOURCE,
        gives: "radius in place of diameter, or the other way round",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The method is right; one length is taken for the other.",
        slip: false,
        say: "Your method is right, but the radius and the diameter are mixed up.",
        next: "Draw the circle and mark what the question gives: all the way across, or half way.",
    };

pub(in crate::misconception) static OUTSIDE_DIAMETER: misconception::Misconception =
    misconception::Misconception {
        id: "outside-diameter",
        name: "measures over the tips of the teeth",
        source: list::NO_SOURCE,
        gives: "(teeth + 2) × tooth size for the circle that rolls",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The method is right; the circle is the wrong one.",
        slip: false,
        say: "You measured over the tips of the teeth. Gears roll on a circle half way down the teeth.",
        next: "Use teeth times tooth size for the circle that rolls.",
    };

pub(in crate::misconception) static PI_FORGOTTEN: misconception::Misconception =
    misconception::Misconception {
        id: "pi-left-out",
        name: "leaves pi out",
        source: list::NO_SOURCE,
        gives: "diameter in place of pi × diameter",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "Diameter and turns are used rightly; pi is missing.",
        slip: false,
        say: "You found how far it is across the circle. One turn goes all the way round it.",
        next: "Once round is pi times once across.",
    };

pub(in crate::misconception) static ONE_TURN_ONLY: misconception::Misconception =
    misconception::Misconception {
        id: "one-turn-only",
        name: "gives the travel of one turn only",
        source: list::NO_SOURCE,
        gives: "pi × diameter, the travel of one turn",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The travel of one turn is right.",
        slip: false,
        say: "That is how far it goes in one turn. There are more turns, or fewer, than one.",
        next: "Multiply the travel of one turn by the number of turns.",
    };

pub(in crate::misconception) static MINUTES_FORGOTTEN: misconception::Misconception =
    misconception::Misconception {
        id: "minutes-left-out",
        name: "takes turns a minute for turns, or turns for turns a minute",
        source: list::NO_SOURCE,
        gives: "the gears worked out, the minutes not used",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The ratio is right; the time is missing.",
        slip: false,
        say: "You used the gears well. Now bring in the time.",
        next: "Say the unit aloud: turns, or turns in each minute.",
    };

pub(in crate::misconception) static MINUTES_AND_SECONDS: misconception::Misconception =
    misconception::Misconception {
        id: "minutes-and-seconds",
        name: "mixes minutes and seconds",
        source: list::NO_SOURCE,
        gives: "the right answer × 60 or ÷ 60",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The ratio is right; the unit of time is not.",
        slip: true,
        say: "Your answer is out by sixty. Look at minutes and seconds.",
        next: "Write the time in minutes before you begin.",
    };

pub(in crate::misconception) static WHOLE_TURNS_ONLY: misconception::Misconception =
    misconception::Misconception {
        id: "whole-turns-only",
        name: "leaves off the part of a turn",
        source: list::NO_SOURCE,
        gives: "the whole turns, the rest left off",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The method is right; the part of a turn is missing.",
        slip: true,
        say: "You have the whole turns. There is part of a turn as well.",
        next: "Write what is left over as a fraction of a turn.",
    };
