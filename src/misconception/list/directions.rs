//! Ways of thinking about directions, comparisons and loops.

use crate::misconception;
use crate::misconception::list;

pub(in crate::misconception) static SAME_DIRECTION: misconception::Misconception =
    misconception::Misconception {
        id: "same-direction",
        name: "takes all gears to turn the same way",
        source: list::LEHRER,
        gives: "the direction told, unchanged",
        credit: misconception::Credit::None,
        credit_reason: "That gears that touch turn opposite ways is the idea asked for.",
        slip: false,
        say: "Where two gears touch, the teeth push each other along. So they turn opposite ways.",
        next: "Draw an arrow where two gears touch and follow it round each gear.",
    };

pub(in crate::misconception) static ALWAYS_OPPOSITE: misconception::Misconception =
    misconception::Misconception {
        id: "always-opposite",
        name: "takes the last gear always to turn the other way",
        source: list::NO_SOURCE,
        gives: "the opposite of the direction told, however many gears",
        credit: misconception::Credit::None,
        credit_reason: "How often the direction changes is the idea asked for.",
        slip: false,
        say: "Two gears turn opposite ways. With more gears you have to go along them one at a time.",
        next: "Draw an arrow on each gear, one after the other.",
    };

pub(in crate::misconception) static PARITY_REVERSED: misconception::Misconception =
    misconception::Misconception {
        id: "odd-and-even-swapped",
        name: "swaps the rule for odd and even",
        source: list::NO_SOURCE,
        gives: "same way for an even count of gears, opposite for an odd one",
        credit: misconception::Credit::None,
        credit_reason: "One direction alone cannot show that the pupil knows directions alternate.",
        slip: false,
        say: "You know that the direction changes from gear to gear. Check how often it changes.",
        next: "Count the places where gears touch, not the gears.",
    };

pub(in crate::misconception) static TURNS_ROUND_ON_AXLE: misconception::Misconception =
    misconception::Misconception {
        id: "turns-round-on-axle",
        name: "changes the direction on a shared axle",
        source: list::NO_SOURCE,
        gives: "one more change of direction for each shared axle",
        credit: misconception::Credit::None,
        credit_reason: "That gears on one axle turn as one is the idea asked for.",
        slip: false,
        say: "Two gears on one axle are fixed together, so they turn the same way.",
        next: "Change the direction only where teeth touch.",
    };

pub(in crate::misconception) static RING_TURNS_ROUND: misconception::Misconception =
    misconception::Misconception {
        id: "ring-turns-round",
        name: "takes a ring gear to turn the other way",
        source: list::NO_SOURCE,
        gives: "a change of direction counted inside the ring",
        credit: misconception::Credit::None,
        credit_reason: "That a ring turns the same way as its gear is the idea asked for.",
        slip: false,
        say: "A gear inside a ring pushes the ring along the same way.",
        next: "Draw an arrow where the teeth touch inside the ring.",
    };

pub(in crate::misconception) static CHAIN_TURNS_ROUND: misconception::Misconception =
    misconception::Misconception {
        id: "chain-turns-round",
        name: "takes a chain or belt to change the direction",
        source: list::NO_SOURCE,
        gives: "a change of direction counted for each chain or open belt",
        credit: misconception::Credit::None,
        credit_reason: "That a chain or open belt keeps the direction is the idea asked for.",
        slip: false,
        say: "A chain or an open belt pulls both wheels the same way.",
        next: "Think of a bicycle: which way do the pedals go, and which way the wheel?",
    };

pub(in crate::misconception) static CROSSING_OVERLOOKED: misconception::Misconception =
    misconception::Misconception {
        id: "crossing-overlooked",
        name: "overlooks that the belt is crossed",
        source: list::NO_SOURCE,
        gives: "no change of direction where the belt is crossed",
        credit: misconception::Credit::None,
        credit_reason: "That a crossed belt changes the direction is the idea asked for.",
        slip: false,
        say: "This belt is crossed in the middle. That changes the direction.",
        next: "Follow the belt with your finger all the way round.",
    };

pub(in crate::misconception) static RACK_ON_OTHER_SIDE: misconception::Misconception =
    misconception::Misconception {
        id: "rack-on-other-side",
        name: "moves the rack as if it lay on the other side",
        source: list::NO_SOURCE,
        gives: "the way a rack on the other side of its gear would go",
        credit: misconception::Credit::None,
        credit_reason: "On which side the rack lies decides, and that is missed.",
        slip: false,
        say: "Look at the side of the gear on which the rack lies.",
        next: "Draw an arrow at the teeth that touch the rack.",
    };

pub(in crate::misconception) static BIG_GEAR_FASTER: misconception::Misconception =
    misconception::Misconception {
        id: "big-gear-faster",
        name: "takes the big gear to be the faster one",
        source: list::REUTER,
        gives: "the gear with more teeth",
        credit: misconception::Credit::None,
        credit_reason: "Which gear is faster is all that is asked.",
        slip: false,
        say: "The big gear has more teeth to pass, so it needs longer for one turn.",
        next: "Turn two gears by hand and count the turns of each.",
    };

pub(in crate::misconception) static SMALL_FASTER_ON_AXLE: misconception::Misconception =
    misconception::Misconception {
        id: "small-faster-on-one-axle",
        name: "takes the small gear to be faster on one axle too",
        source: list::NO_SOURCE,
        gives: "the gear with fewer teeth",
        credit: misconception::Credit::None,
        credit_reason: "That gears on one axle turn as one is the idea asked for.",
        slip: false,
        say: "These two gears are fixed to one axle. They go round together.",
        next: "Check first whether the gears touch or share an axle.",
    };

pub(in crate::misconception) static MOVEMENT_FADES: misconception::Misconception =
    misconception::Misconception {
        id: "movement-fades",
        name: "takes the movement to grow weaker along the gears",
        source: list::NO_SOURCE,
        gives: "the gear nearer to the drive",
        credit: misconception::Credit::None,
        credit_reason: "The teeth are not used at all.",
        slip: false,
        say: "Movement does not run out along the gears. The teeth decide how fast each one turns.",
        next: "Compare the teeth of the two gears.",
    };

pub(in crate::misconception) static LOOP_TURNS: misconception::Misconception =
    misconception::Misconception {
        id: "any-loop-turns",
        name: "takes every closed loop of gears to turn",
        source: list::NO_SOURCE,
        gives: "yes for every closed loop",
        credit: misconception::Credit::None,
        credit_reason: "Whether the loop turns is all that is asked.",
        slip: false,
        say: "Follow the arrows all the way round the loop. Do the last two agree?",
        next: "Draw the arrows. Neighbours must turn opposite ways, also where the loop closes.",
    };

pub(in crate::misconception) static LOOP_JAMS: misconception::Misconception =
    misconception::Misconception {
        id: "any-loop-jams",
        name: "takes every closed loop of gears to jam",
        source: list::NO_SOURCE,
        gives: "no for every closed loop",
        credit: misconception::Credit::None,
        credit_reason: "Whether the loop turns is all that is asked.",
        slip: false,
        say: "Some loops do turn. Follow the arrows all the way round.",
        next: "Count the gears in the loop: what happens with four, and with three?",
    };

pub(in crate::misconception) static ROW_JAMS: misconception::Misconception =
    misconception::Misconception {
        id: "row-jams",
        name: "takes an open row of gears to jam",
        source: list::NO_SOURCE,
        gives: "no for an open row of gears",
        credit: misconception::Credit::None,
        credit_reason: "Whether the row turns is all that is asked.",
        slip: false,
        say: "Only a closed loop can jam in this way. An open row can always turn.",
        next: "Follow the arrows from the first gear to the last. Nothing stands against them.",
    };

pub(in crate::misconception) static TOOTH_SIZE_NO_MATTER: misconception::Misconception =
    misconception::Misconception {
        id: "tooth-size-overlooked",
        name: "overlooks that the teeth differ in size",
        source: list::NO_SOURCE,
        gives: "yes, whatever the tooth sizes",
        credit: misconception::Credit::None,
        credit_reason: "That teeth must be of one size is the idea asked for.",
        slip: false,
        say: "Big teeth do not fit between small teeth.",
        next: "Compare the tooth sizes before anything else.",
    };

pub(in crate::misconception) static WORM_DRIVEN_BACK: misconception::Misconception =
    misconception::Misconception {
        id: "worm-driven-back",
        name: "takes the wheel to be able to drive the worm",
        source: list::NO_SOURCE,
        gives: "yes for a wheel that drives a worm",
        credit: misconception::Credit::None,
        credit_reason: "Whether the wheel can drive the worm is all that is asked.",
        slip: false,
        say: "A worm can drive its wheel, but the wheel cannot push a worm with one start round.",
        next: "Try to turn a screw by pushing on it.",
    };
