//! Ways of thinking about force and losses.

use crate::misconception;
use crate::misconception::list;

pub(in crate::misconception) static FORCE_UPSIDE_DOWN: misconception::Misconception =
    misconception::Misconception {
        id: "force-upside-down",
        name: "turns the force ratio upside down",
        source: list::NO_SOURCE,
        gives: "force × drive teeth ÷ driven teeth",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The right ratio is found; only whether the force grows is missed.",
        slip: false,
        say: "You found the right ratio. Check whether the force grows or shrinks.",
        next: "What turns slower turns with more force.",
    };

pub(in crate::misconception) static FORCE_AND_SPEED_BOTH: misconception::Misconception =
    misconception::Misconception {
        id: "gains-force-and-speed",
        name: "takes force and speed to grow together",
        source: list::LEHRER,
        gives: "the faster gear; in numbers force × drive teeth ÷ driven teeth",
        credit: misconception::Credit::None,
        credit_reason: "That force shrinks as speed grows is the idea asked for.",
        slip: false,
        say: "Gears cannot give more speed and more force at once. One grows as the other shrinks.",
        next: "Think of a bicycle on a hill: which gear is easy, and how fast does it go?",
    };

pub(in crate::misconception) static SAME_FORCE: misconception::Misconception =
    misconception::Misconception {
        id: "same-turning-force",
        name: "takes the turning force to be the same everywhere",
        source: list::NO_SOURCE,
        gives: "the turning force told, unchanged",
        credit: misconception::Credit::None,
        credit_reason: "The teeth are not used at all.",
        slip: false,
        say: "The teeth push equally hard on each other, but a bigger gear turns that into more turning force.",
        next: "Compare opening a door at the handle and near the hinge.",
    };

pub(in crate::misconception) static GEARS_LEFT_OUT: misconception::Misconception =
    misconception::Misconception {
        id: "gears-left-out-of-winch",
        name: "leaves the gears of the winch out",
        source: list::NO_SOURCE,
        gives: "force × handle's arm ÷ drum's radius, gears left out",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "Handle and drum are used rightly; the gears are left out.",
        slip: false,
        say: "You used the handle and the drum well. The gears help as well.",
        next: "Find what the gears do to the turning force, then use the drum.",
    };

pub(in crate::misconception) static ARMS_LEFT_OUT: misconception::Misconception =
    misconception::Misconception {
        id: "arms-left-out",
        name: "leaves the handle's arm or the drum out",
        source: list::NO_SOURCE,
        gives: "force × driven teeth ÷ drive teeth, arm or drum left out",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The gears are used rightly; a length is left out.",
        slip: false,
        say: "You used the gears well. The length of the handle and the size of the drum count too.",
        next: "First make a turning force: force times arm.",
    };

pub(in crate::misconception) static MILLIMETRES_AND_CENTIMETRES: misconception::Misconception =
    misconception::Misconception {
        id: "millimetres-and-centimetres",
        name: "mixes millimetres and centimetres",
        source: list::NO_SOURCE,
        gives: "the right answer × 10 or ÷ 10",
        credit: misconception::Credit::AllButOne,
        credit_reason: "All is right but the unit of a length.",
        slip: true,
        say: "Your answer is out by ten. Look at the units.",
        next: "Write every length in centimetres before you multiply.",
    };

pub(in crate::misconception) static LOSSES_FORGOTTEN: misconception::Misconception =
    misconception::Misconception {
        id: "losses-left-out",
        name: "leaves the losses out",
        source: list::NO_SOURCE,
        gives: "the force without losses",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The gears are used rightly; the losses are left out.",
        slip: false,
        say: "That would be right if nothing were lost. Each mesh loses a little.",
        next: "Multiply by the share that each mesh passes on.",
    };

pub(in crate::misconception) static LOSSES_THE_WRONG_WAY: misconception::Misconception =
    misconception::Misconception {
        id: "losses-wrong-way",
        name: "uses the losses the wrong way round",
        source: list::NO_SOURCE,
        gives: "÷ efficiency where × belongs, or the other way round",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "The losses of every mesh are counted, though the wrong way.",
        slip: false,
        say: "Losses never help. Check whether your force is now too small or too big.",
        next: "Ask: must I push harder because of the losses, or do I lift less?",
    };

pub(in crate::misconception) static LOSSES_SUBTRACTED: misconception::Misconception =
    misconception::Misconception {
        id: "losses-subtracted",
        name: "takes the losses of all meshes away at once",
        source: list::NO_SOURCE,
        gives: "force × (1 - meshes × share lost at each)",
        credit: misconception::Credit::OneOfMore,
        credit_reason: "Every mesh is counted; that each loses from what is left is missed.",
        slip: false,
        say: "Each mesh loses a share of what is left, not of what there was at the start.",
        next: "Work out what is left after the first mesh, then go on from there.",
    };

pub(in crate::misconception) static LOSSES_OF_ONE_MESH: misconception::Misconception =
    misconception::Misconception {
        id: "losses-of-one-mesh",
        name: "counts the losses of one mesh only",
        source: list::NO_SOURCE,
        gives: "force × efficiency of one mesh, not of all",
        credit: misconception::Credit::OneOfThree,
        credit_reason: "That something is lost shows; that every mesh loses is missed.",
        slip: false,
        say: "You counted the losses once. They come at every mesh.",
        next: "Count the places where teeth touch.",
    };
