//! Why a mechanism is not drawn.

use std::fmt;

/// Why a mechanism is not drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotDrawn {
    /// It has no part that can be seen from the front.
    Nothing,
    /// Wheels on a shaft that lies across, or a worm or bevel gear with several partners.
    Across,
    /// A rack with several gears or with none, or two racks on one side of a gear.
    Rack,
    /// More than one closed ring of wheels.
    Rings,
    /// Parts that cannot drive each other.
    CannotMesh,
    /// Wheels of one plane would lie over each other wherever they are put.
    Crowded,
}

impl fmt::Display for NotDrawn {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(match self {
            Self::Nothing => "there is nothing in it that could be drawn",
            Self::Across => {
                "a worm or bevel gear shares its shaft with other wheels, which is not drawn yet"
            }
            Self::Rack => "a rack with several gears or with none is not drawn yet",
            Self::Rings => "more than one closed ring of wheels is not drawn yet",
            Self::CannotMesh => "two of its parts cannot drive each other",
            Self::Crowded => "its wheels would lie over each other wherever they are put",
        })
    }
}

impl std::error::Error for NotDrawn {}
