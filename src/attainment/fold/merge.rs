//! Two folds put together.

use crate::attainment::fold;
use crate::attainment::fold::kept;

impl fold::Fold {
    /// Adds all that another fold counted.
    ///
    /// # Errors
    ///
    /// [`fold::AlreadyCounted`] when both counted the same homework; nothing is added then.
    pub fn merge(&mut self, other: &Self) -> Result<(), fold::AlreadyCounted> {
        let both = other
            .homeworks
            .keys()
            .find(|it| self.homeworks.contains_key(it));
        if let Some(homework) = both {
            return Err(fold::AlreadyCounted {
                homework: homework.clone(),
            });
        }
        let names = &self.names.join(&other.names);
        let pupils = &self.pupils.join(&other.pupils);
        let places = &self.places.join(&other.places, names);
        for (homework, told) in &other.homeworks {
            let told = kept::Told {
                classes: told.classes.iter().map(|it| names.here(*it)).collect(),
                ..told.clone()
            };
            self.homeworks.insert(homework.clone(), told);
        }
        for (cell, counted) in &other.cells {
            let mine = self.cells.entry(cell.here(names, places)).or_default();
            mine.join_from(counted, pupils);
        }
        for (level, counted) in &other.levels {
            self.levels
                .entry(*level)
                .or_default()
                .join_from(counted, pupils);
        }
        for (question, asked) in &other.questions {
            let mine = self.questions.entry(question.here(names)).or_default();
            mine.join_from(asked, names, pupils);
        }
        for (covered, homeworks) in &other.coverage {
            kept::more(&mut self.coverage, covered.here(names), *homeworks);
        }
        self.shown.join_from(&other.shown, names, pupils);
        for (standing, earned) in &other.standing {
            let standing = standing.here(names, pupils);
            self.standing.entry(standing).or_default().join(*earned);
        }
        self.scores
            .merge(&other.scores)
            .expect("tables of the same questions have the same marks to be had");
        self.left_out = self.left_out.saturating_add(other.left_out);
        self.to_check = self.to_check.saturating_add(other.to_check);
        Ok(())
    }
}
