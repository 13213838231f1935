//! A homework without one of its pupils.

use crate::homework;
use std::collections::BTreeMap;

/// Returns the homework as if the pupil had never been on its roll; none where they are
/// not.
///
/// Everybody else keeps their sheet as it is, with its version; a sheet that nobody else
/// has goes too. The code stays: it is printed on what the others handed in.
#[must_use]
pub fn without(homework: &homework::Homework, pupil_id: &str) -> Option<homework::Homework> {
    let is_other = |it: &&homework::Assignment| it.pupil.id != pupil_id;
    let others: Vec<&homework::Assignment> = homework.pupils.iter().filter(is_other).collect();
    if others.len() == homework.pupils.len() {
        return None;
    }
    let mut places: BTreeMap<usize, usize> = BTreeMap::new();
    let mut sheets = Vec::new();
    for (place, sheet) in homework.sheets.iter().enumerate() {
        if others.iter().any(|it| it.sheet == place) {
            places.insert(place, sheets.len());
            sheets.push(sheet.clone());
        }
    }
    let pupils = others.into_iter().map(|it| homework::Assignment {
        pupil: it.pupil.clone(),
        sheet: places.get(&it.sheet).copied().unwrap_or(it.sheet),
    });
    Some(homework::Homework {
        pupils: pupils.collect(),
        sheets,
        ..homework.clone()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pupil(id: &str, sheet: usize) -> homework::Assignment {
        homework::Assignment {
            pupil: homework::Pupil {
                id: id.to_owned(),
                name: format!("Name of {id}"),
                class: "5 Oak".to_owned(),
                year: "5".to_owned(),
                level: None,
                groups: BTreeMap::new(),
            },
            sheet,
        }
    }

    fn homework(pupils: Vec<homework::Assignment>, sheets: &[&str]) -> homework::Homework {
        let sheet = |version: &&str| homework::Sheet {
            version: (*version).to_owned(),
            items: Vec::new(),
        };
        homework::Homework {
            made_by: "0.1.0".to_owned(),
            code: "ABCDEF".to_owned(),
            title: "Gears".to_owned(),
            date: "2026-03-09".to_owned(),
            keep_until: None,
            banks: Vec::new(),
            seed: "seed".to_owned(),
            sheets: sheets.iter().map(sheet).collect(),
            pupils,
        }
    }

    #[test]
    fn a_sheet_of_their_own_goes_and_a_shared_one_stays() {
        let all = vec![pupil("P1", 0), pupil("P2", 1), pupil("P3", 2)];
        let own = without(&homework(all, &["A", "B", "C"]), "P2").expect("they are on the roll");
        assert_eq!(
            own,
            homework(vec![pupil("P1", 0), pupil("P3", 1)], &["A", "C"])
        );
        let shared = homework(vec![pupil("P1", 0), pupil("P2", 0)], &["A"]);
        let left = without(&shared, "P1").expect("they are on the roll");
        assert_eq!(left, homework(vec![pupil("P2", 0)], &["A"]));
        assert_eq!(without(&shared, "P9"), None);
    }
}
