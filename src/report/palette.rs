//! The colours of the page: a published palette that people who see colours otherwise can
//! tell apart, on light ground and on dark.
//!
//! No figure is told by colour alone: every set of dots has a sign of its own besides.
//!
//! Source: Okabe and Ito (2008), Color Universal Design: how to make figures and
//! presentations that are friendly to colourblind people. Of their eight colours those
//! are taken that stand out enough from the ground; a test holds them against WCAG 2.2,
//! success criteria 1.4.3 and 1.4.11.

/// Colours on one ground.
#[derive(Debug, Clone, Copy)]
pub(super) struct Palette {
    /// The ground.
    page: &'static str,
    /// A ground a little apart, for headings of tables and for boxes.
    shade: &'static str,
    /// Text.
    ink: &'static str,
    /// Text that matters less.
    soft: &'static str,
    /// Lines of charts that are to be seen.
    axis: &'static str,
    /// Lines that only lead the eye; nothing hangs on them.
    hair: &'static str,
    /// Links and what is in focus.
    link: &'static str,
    /// The sets of dots, each also with a sign of its own.
    sets: [&'static str; SETS],
}

/// How many sets of dots one chart can tell apart.
pub(super) const SETS: usize = 5;

/// On paper and on a light screen: blue, vermilion, bluish green, reddish purple, black.
const LIGHT: Palette = Palette {
    page: "#ffffff",
    shade: "#f3f2ee",
    ink: "#1b1d22",
    soft: "#4a4f5c",
    axis: "#6d7280",
    hair: "#d3d6de",
    link: "#0072b2",
    sets: ["#0072b2", "#d55e00", "#009e73", "#cc79a7", "#000000"],
};

/// On a dark screen: sky blue, orange, bluish green, reddish purple, yellow.
const DARK: Palette = Palette {
    page: "#15171c",
    shade: "#22252d",
    ink: "#f1f0ec",
    soft: "#b8bdc9",
    axis: "#8a909e",
    hair: "#3d424e",
    link: "#56b4e9",
    sets: ["#56b4e9", "#e69f00", "#009e73", "#cc79a7", "#f0e442"],
};

/// Returns the part of the style that names the colours: light, dark where that is
/// preferred, and light on paper.
pub(super) fn style() -> String {
    format!(
        ":root{{color-scheme:light dark;{}}}\n\
         @media screen and (prefers-color-scheme:dark){{:root{{{}}}}}\n",
        LIGHT.variables(),
        DARK.variables()
    )
}

impl Palette {
    fn variables(&self) -> String {
        let mut text = String::new();
        for (name, colour) in [
            ("page", self.page),
            ("shade", self.shade),
            ("ink", self.ink),
            ("soft", self.soft),
            ("axis", self.axis),
            ("hair", self.hair),
            ("link", self.link),
        ] {
            add!(text, "--{name}:{colour};");
        }
        for (number, colour) in self.sets.iter().enumerate() {
            add!(text, "--set{number}:{colour};");
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance. Source: WCAG 2.2, definition of relative luminance.
    fn luminance(colour: &str) -> f64 {
        let digits = colour.strip_prefix('#').expect("a colour");
        let part = |place: usize| {
            let digits = digits.get(place..place + 2).expect("six digits");
            let value = f64::from(u8::from_str_radix(digits, 16).expect("hexadecimal")) / 255.0;
            if value <= 0.04045 {
                value / 12.92
            } else {
                libm::pow((value + 0.055) / 1.055, 2.4)
            }
        };
        0.2126 * part(0) + 0.7152 * part(2) + 0.0722 * part(4)
    }

    /// Contrast. Source: WCAG 2.2, definition of contrast ratio.
    fn contrast(one: &str, other: &str) -> f64 {
        let (one, other) = (luminance(one), luminance(other));
        (one.max(other) + 0.05) / (one.min(other) + 0.05)
    }

    #[test]
    fn the_measure_of_contrast_is_the_standard_one() {
        assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
        // From memory: the lightest grey that reaches 4.5 on white is #767676.
        assert!(contrast("#767676", "#ffffff") >= 4.5 && contrast("#777777", "#ffffff") < 4.5);
    }

    #[test]
    fn text_and_graphics_stand_out_enough_from_their_ground() {
        for palette in [LIGHT, DARK] {
            for ground in [palette.page, palette.shade] {
                for text in [palette.ink, palette.soft, palette.link] {
                    let found = contrast(text, ground);
                    assert!(found >= 4.5, "{text} on {ground}: {found}");
                }
            }
            for graphic in palette.sets.iter().chain([&palette.axis]) {
                let found = contrast(graphic, palette.page);
                assert!(found >= 3.0, "{graphic} on {}: {found}", palette.page);
            }
        }
    }

    #[test]
    fn no_two_sets_have_one_colour() {
        for palette in [LIGHT, DARK] {
            let mut sets = palette.sets.to_vec();
            sets.sort_unstable();
            sets.dedup();
            assert_eq!(sets.len(), SETS);
        }
    }
}
