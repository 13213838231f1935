//! The marks as a Parquet data set: files opened, filled and put in their place.

use crate::attainment;
use crate::attainment::fold;
use crate::attainment::line;
use crate::commands::console;
use crate::commands::lock;
use crate::commands::save;
use crate::commands::save::whole_folder;
use crate::problem;
use crate::warehouse;
use crate::warehouse::answers;
use crate::warehouse::file;
use crate::warehouse::findings;
use crate::warehouse::partition;
use crate::warehouse::sql;
use crate::warehouse::told;
use crate::wording;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::path::PathBuf;

/// The name of the data set in the folder that is written into.
const MARKS: &str = "marks";

/// Files that are open at one time. Each has a group of rows waiting in memory; with
/// more partitions than this, a partition gets several files.
const MOST_OPEN: usize = 24;

/// A data set that is being filled.
pub(super) struct DataSet {
    passing: tempfile::TempDir,
    out: PathBuf,
    open: BTreeMap<String, (PathBuf, answers::Answers)>,
    /// How many files each partition has so far.
    parts: BTreeMap<String, u32>,
    rows: u64,
}

impl DataSet {
    /// Begins a data set beside its place, in a folder that is held.
    pub(super) fn begin(out: &Path) -> Result<Self, problem::Problem> {
        Ok(Self {
            passing: whole_folder::passing(out)?,
            out: out.to_owned(),
            open: BTreeMap::new(),
            parts: BTreeMap::new(),
            rows: 0,
        })
    }

    /// Adds the answers that count of a family that was added to the fold.
    pub(super) fn add(
        &mut self,
        fold: &fold::Fold,
        family: &fold::Family<'_>,
        school: &attainment::School,
    ) -> Result<(), problem::Problem> {
        fold.lines(family, school, |line| self.add_line(line))
    }

    fn add_line(&mut self, line: &line::Line<'_>) -> Result<(), problem::Problem> {
        let folder = partition::folder(line.academic_year, line.year);
        self.rows = self.rows.saturating_add(1);
        if let Some((path, file)) = self.open.get_mut(&folder) {
            return file.add(line).map_err(|error| unwritten(path, &error));
        }
        if self.open.len() >= MOST_OPEN {
            self.close()?;
        }
        let part = self.parts.entry(folder.clone()).or_default();
        let path = self
            .passing
            .path()
            .join(&folder)
            .join(format!("part-{part:04}.parquet"));
        *part = part.saturating_add(1);
        let mut file = begin(&path, answers::Answers::begin)?;
        file.add(line).map_err(|error| unwritten(&path, &error))?;
        self.open.insert(folder, (path, file));
        Ok(())
    }

    fn close(&mut self) -> Result<(), problem::Problem> {
        for (path, file) in std::mem::take(&mut self.open).into_values() {
            file.finish().map_err(|error| unwritten(&path, &error))?;
        }
        Ok(())
    }

    /// Writes the tables beside the answers, and puts all into its place.
    pub(super) fn finish(
        mut self,
        held: &lock::Lock,
        fold: &fold::Fold,
        summary: &attainment::Summary,
        date: &str,
    ) -> Result<Written, Vec<problem::Problem>> {
        self.fill(fold, summary).map_err(|problem| vec![problem])?;
        let place = self.out.join(MARKS);
        let files = self.parts.values().copied().fold(0, u32::saturating_add);
        let statements = sql::FILES.map(|(name, text)| save::Output {
            path: self.out.join(name),
            bytes: text.as_bytes().to_vec(),
            standing: save::Standing::Kept {
                date: date.to_owned(),
            },
        });
        let mut kept = save::all(held, &statements, &[])?;
        let copy = whole_folder::settle(self.passing, &place, date);
        kept.extend(copy.map_err(|problem| vec![problem])?);
        Ok(Written {
            place,
            kept,
            rows: self.rows,
            files,
        })
    }

    fn fill(
        &mut self,
        fold: &fold::Fold,
        summary: &attainment::Summary,
    ) -> Result<(), problem::Problem> {
        self.close()?;
        let beside = self.passing.path().join(warehouse::BESIDE);
        let path = beside.join(warehouse::FINDINGS);
        let mut file = begin(&path, |out| {
            findings::Findings::begin(out, summary.kept_until())
        })?;
        fold.findings(|finding| file.add(finding))
            .and_then(|()| file.finish())
            .map_err(|error| unwritten(&path, &error))?;
        begin(&beside.join(warehouse::TOLD), |out| {
            told::write(summary, out)
        })
    }
}

/// What was written.
pub(super) struct Written {
    place: PathBuf,
    kept: Vec<PathBuf>,
    rows: u64,
    files: u32,
}

impl Written {
    pub(super) fn say(&self, console: &mut console::Console) {
        for copy in &self.kept {
            console.remark(format_args!("Kept the older one as {}", copy.display()));
        }
        console.remark(format_args!(
            "{} in {}, for the school's or trust's own warehouse only: they \
             are about single pupils, though without names, and small groups can be found in them.",
            wording::counted(self.rows, "answer"),
            wording::counted(self.files, "Parquet file"),
        ));
        console.result(format_args!("Wrote {}", self.place.display()));
    }
}

/// Opens a new file, with its folder, and begins it.
fn begin<T>(
    path: &Path,
    begin: impl FnOnce(fs::File) -> Result<T, file::Unwritten>,
) -> Result<T, problem::Problem> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)
            .map_err(|error| save::failed(folder, "the folder could not be made", &error))?;
    }
    let out = fs::File::create_new(path)
        .map_err(|error| save::failed(path, "the file could not be made", &error))?;
    begin(out).map_err(|error| unwritten(path, &error))
}

fn unwritten(path: &Path, error: &file::Unwritten) -> problem::Problem {
    problem::Problem::new(
        path.display().to_string(),
        format!("the file could not be written: {error}"),
        "see whether there is room for it",
    )
}
