//! Every misconception with its words. Where a source is named, it reports the
//! way of thinking, not our exact wrong solver.

pub(super) mod circles;
pub(super) mod directions;
pub(super) mod forces;
pub(super) mod other;
pub(super) mod trains;

use crate::misconception;

const NO_SOURCE: &str = "common practice, no source";
const LEHRER: &str =
    "Lehrer and Schauble (1998), Journal of Research in Science Teaching 35(1), 3-25";
const REUTER: &str =
    "Reuter and Leuchter (2021), Journal of Research in Science Teaching 58(1), 69-94";
const FERNANDEZ: &str = "Fernández, Llinares, Modestou and Gagatsis (2010), Acta Didactica \
                         Universitatis Comenianae Mathematics 10, 1-18";
const DE_BORDES: &str = "de Bordes, Boom, Schot, van den Heuvel-Panhuizen and Leseman (2019), \
                         Cognitive Development 50, 237-247 (pupils skip and go backward; the \
                         wrong solver is ours)";

/// All of them, in the order shown to people.
pub(super) static ALL: &[&misconception::Misconception] = &[
    &trains::RATIO_UPSIDE_DOWN,
    &trains::RATIO_ORDER_SWAPPED,
    &trains::TAKES_TEETH_AWAY,
    &trains::ADDS_TEETH,
    &trains::SAME_SPEED,
    &trains::FIRST_STAGE_ONLY,
    &trains::LAST_STAGE_ONLY,
    &trains::STAGE_SHORT,
    &trains::ADDS_STAGES,
    &trains::COMPOUND_AS_SIMPLE,
    &trains::LATER_STAGE_UPSIDE_DOWN,
    &trains::STOPS_AT_IDLER,
    &trains::STARTS_AT_IDLER,
    &trains::FRESH_RATIO_EACH,
    &trains::ADDS_MESHES,
    &trains::SQUARED,
    &trains::HALF_OR_DOUBLE,
    &trains::MISCOUNTS,
    &trains::OTHER_GEAR,
    &trains::STAGE_STILL_IN,
    &trains::STARTS_IGNORED,
    &trains::STARTS_MULTIPLY,
    &trains::WORM_AS_EQUAL,
    &trains::CARRIER_FORGOTTEN,
    &trains::PLANET_AS_LAST,
    &circles::DRUM_TURNS_AS_HANDLE,
    &circles::RADIUS_FOR_DIAMETER,
    &circles::OUTSIDE_DIAMETER,
    &circles::PI_FORGOTTEN,
    &circles::ONE_TURN_ONLY,
    &circles::MINUTES_FORGOTTEN,
    &circles::MINUTES_AND_SECONDS,
    &circles::WHOLE_TURNS_ONLY,
    &directions::SAME_DIRECTION,
    &directions::ALWAYS_OPPOSITE,
    &directions::PARITY_REVERSED,
    &directions::TURNS_ROUND_ON_AXLE,
    &directions::RING_TURNS_ROUND,
    &directions::CHAIN_TURNS_ROUND,
    &directions::CROSSING_OVERLOOKED,
    &directions::RACK_ON_OTHER_SIDE,
    &directions::BIG_GEAR_FASTER,
    &directions::SMALL_FASTER_ON_AXLE,
    &directions::MOVEMENT_FADES,
    &directions::LOOP_TURNS,
    &directions::LOOP_JAMS,
    &directions::ROW_JAMS,
    &directions::TOOTH_SIZE_NO_MATTER,
    &directions::WORM_DRIVEN_BACK,
    &forces::FORCE_UPSIDE_DOWN,
    &forces::FORCE_AND_SPEED_BOTH,
    &forces::SAME_FORCE,
    &forces::GEARS_LEFT_OUT,
    &forces::ARMS_LEFT_OUT,
    &forces::MILLIMETRES_AND_CENTIMETRES,
    &forces::LOSSES_FORGOTTEN,
    &forces::LOSSES_THE_WRONG_WAY,
    &forces::LOSSES_SUBTRACTED,
    &forces::LOSSES_OF_ONE_MESH,
    &other::HALF_FORGOTTEN,
    &other::PARTNER_NOT_TAKEN_OFF,
    &other::TOOTH_SIZE_FORGOTTEN,
    &other::SUM_AND_DIFFERENCE_MIXED,
    &other::DIVIDES_BY_TOOTH_SIZE,
    &other::PITCH_FOR_OTHER_DIAMETER,
    &other::ONE_SIDE_ONLY,
    &other::TEETH_AND_MILLIMETRES_MIXED,
    &other::ONE_GEAR_ONLY,
    &other::PRODUCT_FOR_MULTIPLE,
    &other::TURNS_OF_THE_OTHER,
    &other::TEETH_FOR_TURNS,
    &other::NAMES_MIXED,
    &other::ALL_WHEELS_ALIKE,
    &other::JOBS_SWAPPED,
    &other::IDLER_OVERLOOKED,
];
