//! `marks.csv`: one row an answer, for other programs.

use crate::marking;
use crate::marking::table;

/// Returns the bytes of `marks.csv`: UTF-8, commas, a heading row.
///
/// Text that a spreadsheet program could run begins with an apostrophe, see
/// [`table::guarded`].
#[must_use]
pub fn write(marked: &marking::Marked) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let rows = table::rows(marked);
    let headings = std::iter::once(table::HEADINGS.map(str::to_owned));
    for row in headings.chain(rows) {
        writer
            .write_record(&row)
            .expect("every row has as many cells as there are headings");
    }
    writer.into_inner().expect("writing to memory cannot fail")
}
