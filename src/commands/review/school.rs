//! The school's own files: calendar, bands, curricula, policy.

use crate::attainment;
use crate::attainment::bands;
use crate::attainment::calendar;
use crate::attainment::curriculum;
use crate::cli;
use crate::commands::files;
use crate::marking::policy;
use crate::problem;
use std::path::Path;

/// Reads what the school says of itself, and tells every fault of all files.
pub(super) fn read(
    arguments: &cli::ReviewArguments,
    problems: &mut Vec<problem::Problem>,
) -> attainment::School {
    // Nothing of the policy is used here: a fault in it is told all the same.
    if let Some(path) = &arguments.policy {
        file(path, policy::read, problems);
    }
    let calendar = arguments.calendar.as_deref();
    let bands = arguments.bands.as_deref();
    let curricula = if arguments.curriculum.is_empty() {
        vec![curriculum::england()]
    } else {
        let paths = arguments.curriculum.iter();
        paths
            .filter_map(|path| file(path, curriculum::read, problems))
            .collect()
    };
    attainment::School {
        calendar: calendar.and_then(|path| file(path, calendar::read, problems)),
        bands: bands.and_then(|path| file(path, bands::read, problems)),
        curricula,
    }
}

/// Reads one file, or notes what is wrong with it.
fn file<T>(
    path: &Path,
    read: impl Fn(&str, &str) -> Result<T, Vec<problem::Problem>>,
    problems: &mut Vec<problem::Problem>,
) -> Option<T> {
    let found = files::written(path)
        .map_err(|problem| vec![problem])
        .and_then(|text| read(&text, &files::shown(path)));
    found.map_err(|found| problems.extend(found)).ok()
}
