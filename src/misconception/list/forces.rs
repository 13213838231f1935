//! Ways of thinking about force and losses.

use crate::misconception;
use crate::misconception::list;

pub(in crate::misconception) static FORCE_UPSIDE_DOWN: misconception::Misconception =
    misconception::Misconception {
        id: "force-upside-down",
        name: "turns the force ratio upside down",
        source: list::NO_SOURCE,
        credit: misconception::Credit::OneOfMore,
        slip: false,
        say: "You found the right ratio. Check whether the force grows or shrinks.",
        next: "What turns slower turns with more force.",
    };

pub(in crate::misconception) static FORCE_AND_SPEED_BOTH: misconception::Misconception =
    misconception::Misconception {
        id: "gains-force-and-speed",
        name: "takes force and speed to grow together",
        source: list::LEHRER,
        credit: misconception::Credit::None,
        slip: false,
        say: "Gears cannot give more speed and more force at once. One grows as the other shrinks.",
        next: "Think of a bicycle on a hill: which gear is easy, and how fast does it go?",
    };

pub(in crate::misconception) static SAME_FORCE: misconception::Misconception =
    misconception::Misconception {
        id: "same-turning-force",
        name: "takes the turning force to be the same everywhere",
        source: list::NO_SOURCE,
        credit: misconception::Credit::None,
        slip: false,
        say: "The teeth push equally hard on each other, but a bigger gear turns that into more turning force.",
        next: "Compare opening a door at the handle and near the hinge.",
    };

pub(in crate::misconception) static GEARS_LEFT_OUT: misconception::Misconception =
    misconception::Misconception {
        id: "gears-left-out-of-winch",
        name: "leaves the gears of the winch out",
        source: list::NO_SOURCE,
        credit: misconception::Credit::OneOfMore,
        slip: false,
        say: "You used the handle and the drum well. The gears help as well.",
        next: "Find what the gears do to the turning force, then use the drum.",
    };

pub(in crate::misconception) static ARMS_LEFT_OUT: misconception::Misconception =
    misconception::Misconception {
        id: "arms-left-out",
        name: "leaves the handle's arm or the drum out",
        source: list::NO_SOURCE,
        credit: misconception::Credit::OneOfMore,
        slip: false,
        say: "You used the gears well. The length of the handle and the size of the drum count too.",
        next: "First make a turning force: force times arm.",
    };

pub(in crate::misconception) static MILLIMETRES_AND_CENTIMETRES: misconception::Misconception =
    misconception::Misconception {
        id: "millimetres-and-centimetres",
        name: "mixes millimetres and centimetres",
        source: list::NO_SOURCE,
        credit: misconception::Credit::AllButOne,
        slip: true,
        say: "Your answer is out by ten. Look at the units.",
        next: "Write every length in centimetres before you multiply.",
    };

pub(in crate::misconception) static LOSSES_FORGOTTEN: misconception::Misconception =
    misconception::Misconception {
        id: "losses-left-out",
        name: "leaves the losses out",
        source: list::NO_SOURCE,
        credit: misconception::Credit::OneOfMore,
        slip: false,
        say: "That would be right if nothing were lost. Each mesh loses a little.",
        next: "Multiply by the share that each mesh passes on.",
    };

pub(in crate::misconception) static LOSSES_THE_WRONG_WAY: misconception::Misconception =
    misconception::Misconception {
        id: "losses-wrong-way",
        name: "uses the losses the wrong way round",
        source: list::NO_SOURCE,
        credit: misconception::Credit::OneOfMore,
        slip: false,
        say: "Losses never help. Check whether your force is now too small or too big.",
        next: "Ask: must I push harder because of the losses, or do I lift less?",
    };

pub(in crate::misconception) static LOSSES_SUBTRACTED: misconception::Misconception =
    misconception::Misconception {
        id: "losses-subtracted",
        name: "takes the losses of all meshes away at once",
        source: list::NO_SOURCE,
        credit: misconception::Credit::OneOfMore,
        slip: false,
        say: "Each mesh loses a share of what is left, not of what there was at the start.",
        next: "Work out what is left after the first mesh, then go on from there.",
    };

pub(in crate::misconception) static LOSSES_OF_ONE_MESH: misconception::Misconception =
    misconception::Misconception {
        id: "losses-of-one-mesh",
        name: "counts the losses of one mesh only",
        source: list::NO_SOURCE,
        credit: misconception::Credit::OneOfThree,
        slip: false,
        say: "You counted the losses once. They come at every mesh.",
        next: "Count the places where teeth touch.",
    };
