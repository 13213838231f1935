//! Bytes of a text as lines and columns, found fast however long the text is.

/// How many bytes stand between two counts.
const BLOCK: usize = 1024;

/// Where the lines of a text begin, and how many signs stand before each block of it.
#[derive(Debug)]
pub(super) struct Places {
    lines: Vec<usize>,
    signs: Vec<usize>,
}

impl Places {
    /// Returns the places of a text.
    pub(super) fn of(text: &str) -> Self {
        let ends = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
        let mut signs = vec![0];
        let mut count = 0;
        for block in text.as_bytes().chunks(BLOCK) {
            count += starts(block);
            signs.push(count);
        }
        Self {
            lines: std::iter::once(0)
                .chain(ends.map(|(at, _)| at + 1))
                .collect(),
            signs,
        }
    }

    /// Returns line and column of a byte of the same text, both from one, the column in
    /// signs.
    pub(super) fn line_and_column(&self, text: &str, at: usize) -> (usize, usize) {
        let at = if text.is_char_boundary(at) {
            at
        } else {
            text.len()
        };
        let line = self.lines.partition_point(|start| *start <= at);
        let start = line.checked_sub(1).and_then(|line| self.lines.get(line));
        let before = self.signs_before(text, start.copied().unwrap_or_default());
        (line, self.signs_before(text, at) - before + 1)
    }

    fn signs_before(&self, text: &str, at: usize) -> usize {
        let block = at / BLOCK;
        let rest = text.as_bytes().get(block * BLOCK..at).unwrap_or_default();
        self.signs.get(block).copied().unwrap_or_default() + starts(rest)
    }
}

/// Returns how many signs begin in these bytes of UTF-8 text.
fn starts(bytes: &[u8]) -> usize {
    bytes.iter().filter(|byte| **byte & 0xC0 != 0x80).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_those_that_counting_from_the_beginning_gives() {
        let text = "a½\n\n\u{1f600}b\r\nc".repeat(400);
        let places = Places::of(&text);
        for at in (0..=text.len()).filter(|at| text.is_char_boundary(*at)) {
            let (before, _) = text.split_at(at);
            let line = before.matches('\n').count() + 1;
            let column = before
                .rsplit('\n')
                .next()
                .map_or(0, |last| last.chars().count())
                + 1;
            assert_eq!(places.line_and_column(&text, at), (line, column), "{at}");
        }
        assert_eq!(Places::of("").line_and_column("", 0), (1, 1));
        assert_eq!(Places::of("a").line_and_column("a", 99), (1, 2));
    }
}
