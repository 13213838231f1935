//! Ways of thinking about trains of gears.

use crate::misconception;
use crate::misconception::list;

pub(in crate::misconception) static RATIO_UPSIDE_DOWN: misconception::Misconception =
    misconception::Misconception {
        id: "ratio-upside-down",
        name: "turns the ratio upside down",
        source: list::NO_SOURCE,
        gives: "turns × driven teeth ÷ drive teeth",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The teeth are compared by multiplying; only which gear turns more is missed.",
        slip: false,
        say: "You found how the two gears compare. Now check which one turns more.",
        next: "Say first which gear turns faster: the one with fewer teeth. Then work it out.",
    };

pub(in crate::misconception) static RATIO_ORDER_SWAPPED: misconception::Misconception =
    misconception::Misconception {
        id: "ratio-order-swapped",
        name: "writes the ratio in the other order",
        source: list::NO_SOURCE,
        gives: "second : first in place of first : second",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "Both numbers are right and belong together; only their order is not.",
        slip: false,
        say: "Your two numbers belong together. Look again at which one the question names first.",
        next: "Write the two names above the ratio before you fill in the numbers.",
    };

pub(in crate::misconception) static TAKES_TEETH_AWAY: misconception::Misconception =
    misconception::Misconception {
        id: "teeth-difference",
        name: "uses the difference of the teeth",
        source: list::FERNANDEZ,
        gives: "turns - (driven teeth - drive teeth)",
        credit: misconception::Credit::None,
        credit_reason: "Adding and taking away show no idea of how many times.",
        slip: false,
        say: "You looked at how many teeth more one gear has. Gears compare by how many times.",
        next: "Count how often the small gear goes round while the big gear goes round once.",
    };

pub(in crate::misconception) static ADDS_TEETH: misconception::Misconception =
    misconception::Misconception {
        id: "teeth-difference-added",
        name: "uses the difference of the teeth, the wrong way",
        source: list::FERNANDEZ,
        gives: "turns + (driven teeth - drive teeth)",
        credit: misconception::Credit::None,
        credit_reason: "Adding and taking away show no idea of how many times.",
        slip: false,
        say: "You looked at how many teeth more one gear has. Gears compare by how many times.",
        next: "Count how often the small gear goes round while the big gear goes round once.",
    };

pub(in crate::misconception) static SAME_SPEED: misconception::Misconception =
    misconception::Misconception {
        id: "same-speed",
        name: "takes all gears to turn alike",
        source: list::LEHRER,
        gives: "the turns of the drive gear, unchanged",
        credit: misconception::Credit::None,
        credit_reason: "The teeth are not used at all.",
        slip: false,
        say: "Gears that touch pass on the same number of teeth, not the same number of turns.",
        next: "Mark one tooth on each gear with chalk, turn slowly, and count the turns of both.",
    };

pub(in crate::misconception) static FIRST_STAGE_ONLY: misconception::Misconception =
    misconception::Misconception {
        id: "first-stage-only",
        name: "works out the first stage only",
        source: list::NO_SOURCE,
        gives: "the first stage worked out, the others left out",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "One stage is worked out rightly.",
        slip: false,
        say: "Your first stage is right. There is another stage after it.",
        next: "Take your answer for the first stage to the gear on the same axle and go on.",
    };

pub(in crate::misconception) static LAST_STAGE_ONLY: misconception::Misconception =
    misconception::Misconception {
        id: "last-stage-only",
        name: "works out the last stage only",
        source: list::NO_SOURCE,
        gives: "the last stage worked out, the others left out",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "One stage is worked out rightly.",
        slip: false,
        say: "Your last stage is right. Something happens before it.",
        next: "Start at the gear that is turned and work along the gears one after the other.",
    };

pub(in crate::misconception) static STAGE_SHORT: misconception::Misconception =
    misconception::Misconception {
        id: "stops-a-stage-short",
        name: "leaves the last of three stages out",
        source: list::NO_SOURCE,
        gives: "all stages but the last worked out",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "All stages but the last are worked out rightly.",
        slip: false,
        say: "Your first stages are right. There is one more stage after them.",
        next: "Tick each stage in the drawing when you have worked it out.",
    };

pub(in crate::misconception) static ADDS_STAGES: misconception::Misconception =
    misconception::Misconception {
        id: "adds-stages",
        name: "adds the stages instead of multiplying them",
        source: list::NO_SOURCE,
        gives: "turns ÷ (ratio of one stage + ratio of the next)",
        credit: misconception::Credit::OneOfThree,
        credit_reason: "Each stage is right on its own; how they go together is missed.",
        slip: false,
        say: "You found what each stage does. Two stages work one after the other, so they multiply.",
        next: "Take one turn of the last gear and work back: how many turns does each axle make?",
    };

pub(in crate::misconception) static COMPOUND_AS_SIMPLE: misconception::Misconception =
    misconception::Misconception {
        id: "shared-axle-overlooked",
        name: "overlooks that two gears share an axle",
        source: list::NO_SOURCE,
        gives: "turns × first gear's teeth ÷ last gear's teeth",
        credit: misconception::Credit::OneOfThree,
        credit_reason: "The rule for a row of gears is known; the shared axle is missed.",
        slip: false,
        say: "Two of these gears are fixed to one axle, so they turn together.",
        next: "Find the gears on one axle first and give them the same number of turns.",
    };

pub(in crate::misconception) static LATER_STAGE_UPSIDE_DOWN: misconception::Misconception =
    misconception::Misconception {
        id: "second-stage-upside-down",
        name: "turns a later stage upside down",
        source: list::NO_SOURCE,
        gives: "first stage right, a later one × driven teeth ÷ drive teeth",
        credit: misconception::Credit::AllButOne,
        credit_reason: "Every stage is used, and all but one the right way up.",
        slip: false,
        say: "Your first stage is right. In a later stage the numbers are the wrong way round.",
        next: "In each stage say first which gear turns faster.",
    };

pub(in crate::misconception) static STOPS_AT_IDLER: misconception::Misconception =
    misconception::Misconception {
        id: "stops-at-idler",
        name: "stops at the idler",
        source: list::DE_BORDES,
        gives: "the idler's turns given for the last gear",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The meshes up to the idler are worked out rightly.",
        slip: false,
        say: "You found how the middle gear turns. The question asks about a gear after it.",
        next: "Follow the teeth with your finger until you reach the gear asked about.",
    };

pub(in crate::misconception) static STARTS_AT_IDLER: misconception::Misconception =
    misconception::Misconception {
        id: "starts-at-idler",
        name: "starts at the idler",
        source: list::DE_BORDES,
        gives: "the drive gear's turns given to the idler, then on from there",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The meshes after the idler are worked out rightly.",
        slip: false,
        say: "You worked from the middle gear. It does not turn as often as the first gear.",
        next: "Begin at the gear that is turned and follow the teeth from there.",
    };

pub(in crate::misconception) static FRESH_RATIO_EACH: misconception::Misconception =
    misconception::Misconception {
        id: "first-gear-each-time",
        name: "compares every gear with the first and multiplies",
        source: list::NO_SOURCE,
        gives: "turns × first ÷ second × first ÷ third gear's teeth",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The gears are compared by multiplying; what drives what is missed.",
        slip: false,
        say: "Each gear is driven by the gear next to it, not by the first gear each time.",
        next: "Work along the row one pair at a time. See what happens to the middle gear's teeth.",
    };

pub(in crate::misconception) static ADDS_MESHES: misconception::Misconception =
    misconception::Misconception {
        id: "adds-meshes",
        name: "adds the ratios along a row of gears",
        source: list::NO_SOURCE,
        gives: "turns ÷ (ratio of one mesh + ratio of the next)",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The ratios of the meshes are right; how they go together is missed.",
        slip: false,
        say: "You found how each pair compares. Along a row of gears the ratios multiply.",
        next: "Work out the turns of the middle gear first, then of the next gear.",
    };

pub(in crate::misconception) static SQUARED: misconception::Misconception =
    misconception::Misconception {
        id: "ratio-twice",
        name: "uses the ratio twice, as for areas",
        source: list::NO_SOURCE,
        gives: "turns × drive teeth ÷ driven teeth, and the same once more",
        credit: misconception::Credit::OneOfThree,
        credit_reason: "The ratio is the right way up; it is used once too often.",
        slip: false,
        say: "The ratio counts once for each pair of gears.",
        next: "Count teeth along the rim: that is a length, not an area.",
    };

pub(in crate::misconception) static HALF_OR_DOUBLE: misconception::Misconception =
    misconception::Misconception {
        id: "half-or-double",
        name: "is out by two: a radius for a diameter, or a half left over",
        source: list::NO_SOURCE,
        gives: "half or twice the right answer",
        credit: misconception::Credit::None,
        credit_reason: "Where only teeth are told, a two too many or too few shows no method by itself.",
        slip: true,
        say: "Your answer is half or twice the right one. Find where a two came in or went missing.",
        next: "Use the same for both gears: both across the middle, or both teeth.",
    };

pub(in crate::misconception) static MISCOUNTS: misconception::Misconception =
    misconception::Misconception {
        id: "miscounts-by-one",
        name: "counts one tooth too many or too few",
        source: list::NO_SOURCE,
        gives: "the right way, with a count of teeth one too many or too few",
        credit: misconception::Credit::None,
        credit_reason: "The sheet prints the teeth; working can still earn the method mark.",
        slip: true,
        say: "Your method is right. One count of teeth looks one out.",
        next: "Mark the tooth that you start at before you count.",
    };

pub(in crate::misconception) static OTHER_GEAR: misconception::Misconception =
    misconception::Misconception {
        id: "other-gear",
        name: "answers for another gear",
        source: list::NO_SOURCE,
        gives: "the right answer for another gear",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The value is right for the gear it belongs to.",
        slip: true,
        say: "This is how another gear turns. Look again at which gear is asked about.",
        next: "Underline the letter of the gear in the question.",
    };

pub(in crate::misconception) static STAGE_STILL_IN: misconception::Misconception =
    misconception::Misconception {
        id: "stage-still-in",
        name: "counts the stage that was taken out",
        source: list::NO_SOURCE,
        gives: "every stage worked out, also the one taken out",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The stages are worked out rightly; one of them is no longer there.",
        slip: false,
        say: "You worked with all the stages. One of them was taken out.",
        next: "Cross the missing stage out in the drawing and join its two axles.",
    };

pub(in crate::misconception) static STARTS_IGNORED: misconception::Misconception =
    misconception::Misconception {
        id: "worm-starts-ignored",
        name: "leaves the starts of the worm out",
        source: list::NO_SOURCE,
        gives: "worm turns ÷ wheel teeth, as for one start",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The rule for a worm is known; its starts are left out.",
        slip: false,
        say: "Your answer fits a worm with one start. This worm has more.",
        next: "One turn of the worm moves the wheel on by one tooth for each start.",
    };

pub(in crate::misconception) static STARTS_MULTIPLY: misconception::Misconception =
    misconception::Misconception {
        id: "worm-starts-slow-down",
        name: "takes more starts to make the wheel slower",
        source: list::NO_SOURCE,
        gives: "worm turns ÷ (wheel teeth × starts)",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The rule for a worm is known; its starts work the wrong way.",
        slip: false,
        say: "More starts move the wheel on by more teeth in each turn of the worm.",
        next: "Ask how many teeth go past in one turn of the worm.",
    };

pub(in crate::misconception) static WORM_AS_EQUAL: misconception::Misconception =
    misconception::Misconception {
        id: "worm-like-plain-gear",
        name: "takes the worm to turn its wheel once for each turn",
        source: list::NO_SOURCE,
        gives: "the worm's turns, unchanged",
        credit: misconception::Credit::None,
        credit_reason: "That a worm turns its wheel slowly is the idea asked for.",
        slip: false,
        say: "A worm is like a screw: one turn moves the wheel on by very few teeth.",
        next: "Turn a screw once and see how far it moves.",
    };

pub(in crate::misconception) static CARRIER_FORGOTTEN: misconception::Misconception =
    misconception::Misconception {
        id: "carrier-forgotten",
        name: "works as if the carrier stood still",
        source: list::NO_SOURCE,
        gives: "turns × sun teeth ÷ ring teeth, the two not added",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The right two gears are compared; that the carrier turns is missed.",
        slip: false,
        say: "You compared the sun gear with the ring. The carrier turns here, and the ring stands still.",
        next: "Add the teeth of the sun to the teeth of the ring before you divide.",
    };

pub(in crate::misconception) static PLANET_AS_LAST: misconception::Misconception =
    misconception::Misconception {
        id: "planet-as-last-gear",
        name: "works out the planet gear instead of the carrier",
        source: list::NO_SOURCE,
        gives: "turns × sun teeth ÷ planet teeth",
        credit: misconception::Credit::OneOfThree,
        credit_reason: "A mesh is worked out rightly; it is not the one asked about.",
        slip: false,
        say: "You compared the sun gear with a planet. The question asks about the carrier.",
        next: "Find the part that carries the planets round.",
    };
