//! A chart of dots with their intervals, as SVG that fits any width.
//!
//! Along the width everything lies in hundredths, and down the page in pixels, so that
//! text keeps its size on a telephone and on paper. Names of groups stand above their
//! dots, never beside them, where there would be no room.

use crate::html;
use crate::report::axis;
use crate::report::palette;
use crate::report::table;

/// How many signs of a name fit into a line of a narrow screen.
const LINE: usize = 42;
/// How many lines a name may have.
const MOST_LINES: usize = 2;
/// The most rows of one drawing with one set, so that it fits onto a printed page.
const MOST_ROWS: usize = 14;
/// How tall a line of text is, in pixels.
const TEXT: usize = 18;
/// How tall the line of a dot is.
const DOT: usize = 16;
/// How tall the numbers of the axis are.
const NUMBERS: usize = 20;
/// What lies between two rows.
const GAP: usize = 8;
/// How many rows that are not drawn are named.
const MOST_NAMED: usize = 6;

/// The signs of the sets of dots, about a point at 0, 0.
const SIGNS: [&str; palette::SETS] = [
    "M-6 0a6 6 0 1 0 12 0a6 6 0 1 0-12 0z",
    "M-5-5h10v10h-10z",
    "M0-7l7 12h-14z",
    "M0-7l7 7l-7 7l-7-7z",
    "M-2-6h4v4h4v4h-4v4h-4v-4h-4v-4h4z",
];

/// A row that is drawn.
struct Drawn<'t> {
    name: String,
    /// A figure for each set, where there is one.
    dots: Vec<Option<&'t table::Figure>>,
}

/// What a chart draws.
struct Plan<'t> {
    chart: &'t table::Chart,
    unit: table::Unit,
    axis: axis::Axis,
    /// Names of the sets; empty where there is one only.
    sets: Vec<&'t str>,
    /// The figure of all together, where one set is drawn.
    whole: Option<&'t table::Figure>,
    rows: Vec<Drawn<'t>>,
    /// The rows without a figure, with why.
    left_out: Vec<String>,
}

/// Returns a chart of a table as a figure of the page; nothing where none of its cells
/// can be drawn. `id` is the start of the ids in it.
pub(super) fn figure(table: &table::Table, chart: &table::Chart, id: &str) -> Option<String> {
    let plan = plan(table, chart)?;
    let mut text = format!(
        "<figure class=\"chart\">\n<p class=\"charted\">{}</p>\n",
        html::text(&plan.chart.title)
    );
    plan.legend(&mut text);
    let most = (MOST_ROWS / plan.sets.len().max(1)).max(1);
    for (number, rows) in plan.rows.chunks(most).enumerate() {
        plan.drawing(&mut text, &format!("{id}-{number}"), rows);
    }
    add!(
        text,
        "<figcaption>{}</figcaption>\n</figure>\n",
        html::text(&plan.caption())
    );
    Some(text)
}

fn plan<'t>(table: &'t table::Table, chart: &'t table::Chart) -> Option<Plan<'t>> {
    let columns: Vec<&table::Column> = chart
        .columns
        .iter()
        .take(palette::SETS)
        .filter_map(|column| table.columns.get(*column))
        .collect();
    let unit = columns.first()?.unit;
    let mut rows = Vec::new();
    let mut left_out = Vec::new();
    let mut whole = None;
    for row in &table.rows {
        let cells: Vec<Option<&table::Cell>> = chart
            .columns
            .iter()
            .take(palette::SETS)
            .map(|column| row.cells.get(*column))
            .collect();
        let dots: Vec<Option<&table::Figure>> = cells
            .iter()
            .map(|cell| match cell {
                Some(table::Cell::Figure(figure)) => Some(figure),
                Some(table::Cell::Held(_) | table::Cell::Words(_) | table::Cell::Nothing)
                | None => None,
            })
            .collect();
        let names = row.names.get(..chart.named_by).unwrap_or(&row.names);
        let name = names.join(", ");
        if row.is_whole {
            whole = dots.first().copied().flatten();
        } else if dots.iter().any(Option::is_some) {
            rows.push(Drawn { name, dots });
        } else if let Some(table::Cell::Held(why)) = cells.first().copied().flatten() {
            left_out.push(format!("{name} ({why})"));
        }
    }
    let value = |row: &Drawn<'_>| row.dots.iter().flatten().next().map_or(0.0, |it| it.value);
    match chart.rows {
        table::Drawn::All => {}
        table::Drawn::Lowest(most) => {
            rows.sort_by(|one, other| value(one).total_cmp(&value(other)));
            rows.truncate(most);
        }
        table::Drawn::Highest(most) => {
            rows.sort_by(|one, other| value(other).total_cmp(&value(one)));
            rows.truncate(most);
        }
    }
    if rows.is_empty() {
        return None;
    }
    let drawn: Vec<&table::Figure> = rows
        .iter()
        .flat_map(|row| row.dots.iter().flatten().copied())
        .chain(whole)
        .collect();
    let are_several = columns.len() > 1;
    Some(Plan {
        chart,
        unit,
        axis: axis::Axis::of(unit, &drawn),
        sets: if are_several {
            columns.iter().map(|column| column.heading()).collect()
        } else {
            Vec::new()
        },
        whole: whole.filter(|_| !are_several),
        rows,
        left_out,
    })
}

impl Plan<'_> {
    /// What each sign stands for.
    fn legend(&self, text: &mut String) {
        if self.sets.is_empty() {
            return;
        }
        text.push_str("<ul class=\"legend\">");
        for (number, (set, sign)) in self.sets.iter().zip(SIGNS).enumerate() {
            add!(
                text,
                "<li><svg width=\"16\" height=\"16\" viewBox=\"-8 -8 16 16\" aria-hidden=\"true\">\
                 <path class=\"set{number}\" d=\"{sign}\"/></svg> {}</li>",
                html::text(set)
            );
        }
        text.push_str("</ul>\n");
    }

    /// What the chart shows, and what it leaves out.
    fn caption(&self) -> String {
        let mut sentences = vec![
            "A dot is the figure, the line through it the 95 % interval, n the number of pupils."
                .to_owned(),
        ];
        sentences.extend(self.whole.map(|whole| {
            let whole = whole.words(self.unit);
            format!("The broken line is all together: {whole}.")
        }));
        if !self.left_out.is_empty() {
            let named: Vec<&str> = self.left_out.iter().map(String::as_str).collect();
            let named = named.get(..MOST_NAMED).unwrap_or(&named);
            let more = match self.left_out.len().saturating_sub(named.len()) {
                0 => String::new(),
                more => format!(" and {more} more"),
            };
            sentences.push(format!("Not drawn: {}{more}.", named.join(", ")));
        }
        sentences.join(" ")
    }

    /// One drawing of so many rows.
    fn drawing(&self, text: &mut String, id: &str, rows: &[Drawn<'_>]) {
        let mut body = String::new();
        let mut y = NUMBERS;
        for row in rows {
            y = self.row(&mut body, y, row);
        }
        let (first, last) = (NUMBERS, y);
        let height = y.saturating_add(NUMBERS);
        add!(
            text,
            "<svg class=\"dots\" width=\"100%\" height=\"{height}\" role=\"img\" \
             aria-labelledby=\"{id}-title {id}-desc\">\n<title id=\"{id}-title\">{}</title>\n\
             <desc id=\"{id}-desc\">{}</desc>\n",
            html::text(&self.chart.title),
            html::text(&self.described(rows))
        );
        for tick in &self.axis.ticks {
            let x = self.axis.place(*tick);
            // A word behind each number has no room on a telephone; the figures say it.
            let sign = Some(self.unit.sign()).filter(|sign| sign.ends_with('%'));
            let number = format!("{}{}", self.unit.shown(*tick), sign.unwrap_or_default());
            add!(
                text,
                "<line class=\"hair\" x1=\"{x:.2}%\" x2=\"{x:.2}%\" y1=\"{first}\" y2=\"{last}\"/>"
            );
            let anchor = if x < 10.0 {
                "start"
            } else if x > 90.0 {
                "end"
            } else {
                "middle"
            };
            for y in [NUMBERS - 7, last + NUMBERS - 6] {
                add!(
                    text,
                    "<text class=\"number\" x=\"{x:.2}%\" y=\"{y}\" \
                     text-anchor=\"{anchor}\">{number}</text>"
                );
            }
        }
        if let Some(whole) = self.whole {
            let x = self.axis.place(whole.value);
            add!(
                text,
                "<line class=\"whole\" x1=\"{x:.2}%\" x2=\"{x:.2}%\" y1=\"{first}\" y2=\"{last}\"/>"
            );
        }
        text.push_str(&body);
        text.push_str("\n</svg>\n");
    }

    /// Draws a row from `y` down, and returns where it ends.
    fn row(&self, body: &mut String, y: usize, row: &Drawn<'_>) -> usize {
        let mut y = y;
        let mut lines = lines(&row.name);
        let only = match row.dots.as_slice() {
            [Some(dot)] => Some(dot.words(self.unit)),
            _ => None,
        };
        if let Some(words) = &only {
            // The figure stands at the end of the last line, or below where it is full.
            let last = lines.last().map_or(0, |line| line.chars().count());
            if last + words.chars().count() + 2 > LINE {
                lines.push(String::new());
            }
        }
        let count = lines.len();
        for (number, line) in lines.iter().enumerate() {
            y += TEXT;
            let baseline = y - 4;
            add!(
                body,
                "\n<text class=\"name\" x=\"2%\" y=\"{baseline}\">{}</text>",
                html::text(line)
            );
            if let Some(words) = only.as_ref().filter(|_| number + 1 == count) {
                add!(
                    body,
                    "<text class=\"figure\" x=\"98%\" y=\"{baseline}\" \
                     text-anchor=\"end\">{}</text>",
                    html::text(words)
                );
            }
        }
        for (set, dot) in row.dots.iter().enumerate() {
            let Some(dot) = dot else { continue };
            if only.is_none() {
                y += TEXT;
                let baseline = y - 4;
                let of = self.sets.get(set).copied().unwrap_or_default();
                add!(
                    body,
                    "<text class=\"figure\" x=\"2%\" y=\"{baseline}\">{}: {}</text>",
                    html::text(of),
                    html::text(&dot.words(self.unit))
                );
            }
            y += DOT;
            self.dot(body, y - DOT / 2, set, dot);
        }
        y + GAP
    }

    /// Draws a dot with its interval.
    fn dot(&self, body: &mut String, y: usize, set: usize, dot: &table::Figure) {
        if let Some((low, high)) = dot.interval {
            let (low, high) = (self.axis.place(low), self.axis.place(high));
            add!(
                body,
                "<line class=\"line{set}\" x1=\"{low:.2}%\" x2=\"{high:.2}%\" y1=\"{y}\" y2=\"{y}\"/>"
            );
            let (top, bottom) = (y - 5, y + 5);
            for end in [low, high] {
                add!(
                    body,
                    "<line class=\"line{set}\" x1=\"{end:.2}%\" x2=\"{end:.2}%\" y1=\"{top}\" \
                     y2=\"{bottom}\"/>"
                );
            }
        }
        let x = self.axis.place(dot.value);
        let sign = SIGNS.get(set).copied().unwrap_or(SIGNS[0]);
        add!(
            body,
            "<svg x=\"{x:.2}%\" y=\"{y}\" overflow=\"visible\"><path class=\"set{set}\" \
             d=\"{sign}\"/></svg>"
        );
    }

    /// What is drawn, for those who hear the page.
    fn described(&self, rows: &[Drawn<'_>]) -> String {
        let told: Vec<String> = rows
            .iter()
            .map(|row| {
                let dots: Vec<String> = row
                    .dots
                    .iter()
                    .enumerate()
                    .filter_map(|(set, dot)| {
                        let words = dot.as_ref()?.words(self.unit);
                        Some(match self.sets.get(set) {
                            Some(name) => format!("{name} {words}"),
                            None => words,
                        })
                    })
                    .collect();
                format!("{}: {}", row.name, dots.join("; "))
            })
            .collect();
        format!(
            "Dots with lines for the 95 % interval; the table after the chart has the same \
             figures. {}.",
            told.join(". ")
        )
    }
}

/// A name in lines that fit; what is beyond the last ends in dots.
fn lines(name: &str) -> Vec<String> {
    let mut lines = vec![String::new()];
    let mut is_cut = false;
    for word in name.split_whitespace() {
        let signs: Vec<char> = word.chars().collect();
        for piece in signs.chunks(LINE) {
            let piece: String = piece.iter().collect();
            let count = lines.len();
            let Some(line) = lines.last_mut() else { break };
            let length = line.chars().count();
            if length == 0 {
                line.push_str(&piece);
            } else if length + 1 + piece.chars().count() <= LINE {
                line.push(' ');
                line.push_str(&piece);
            } else if count < MOST_LINES {
                lines.push(piece);
            } else {
                is_cut = true;
                break;
            }
        }
        if is_cut {
            break;
        }
    }
    if let Some(line) = lines.last_mut().filter(|_| is_cut) {
        line.push_str(" \u{2026}");
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_names_stand_in_two_lines_and_then_end() {
        assert_eq!(lines("5 Oak"), ["5 Oak"]);
        assert_eq!(lines(""), [""]);
        let told = lines(&"gears and wheels ".repeat(9));
        assert_eq!(told.len(), 2);
        assert!(told[1].ends_with('\u{2026}'), "{told:?}");
        assert!(told.iter().all(|line| line.chars().count() <= LINE + 2));
        assert_eq!(lines(&"x".repeat(60)).len(), 2);
    }
}
