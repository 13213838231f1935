//! What a homework can be made of: templates at their levels, and the versions
//! that were found of each.

use crate::bank;
use crate::homework;
use crate::item::pool;
use crate::level;
use crate::seed;
use std::collections::BTreeMap;
use std::sync::Arc;

/// How many equally hard versions of a question are looked for.
const WANTED: usize = 64;

/// A template at one of its levels.
#[derive(Clone, Copy)]
pub(super) struct Candidate<'p> {
    pub(super) bank: &'p bank::Bank,
    pub(super) template: &'p bank::Template,
    pub(super) level: level::Level,
}

/// The key of a candidate: bank, template and level.
type Key<'p> = (&'p str, &'p str, level::Level);

impl<'p> Candidate<'p> {
    fn key(&self) -> Key<'p> {
        (&self.bank.id, &self.template.id, self.level)
    }
}

/// Returns every template of the plan's banks and skills at each of these levels.
pub(super) fn candidates<'p>(plan: &homework::Plan<'p>, levels: level::Span) -> Vec<Candidate<'p>> {
    let mut candidates = Vec::new();
    for bank in plan.banks {
        for template in &bank.templates {
            let asked = plan.skills.is_empty() || plan.skills.contains(&template.skill);
            for &level in &template.levels {
                if asked && levels.contains(level) {
                    candidates.push(Candidate {
                        bank,
                        template,
                        level,
                    });
                }
            }
        }
    }
    candidates
}

/// The versions that were looked for so far.
pub(super) struct Stock<'p> {
    seed: String,
    /// One version each, to look at before choosing; `None` where none was found.
    samples: BTreeMap<Key<'p>, Option<Arc<pool::Pool<'p>>>>,
    pools: BTreeMap<Key<'p>, Arc<pool::Pool<'p>>>,
    /// What could not be drawn.
    pub(super) notices: Vec<homework::Notice>,
}

impl<'p> Stock<'p> {
    pub(super) fn new(seed: &str) -> Self {
        Self {
            seed: seed.to_owned(),
            samples: BTreeMap::new(),
            pools: BTreeMap::new(),
            notices: Vec::new(),
        }
    }

    /// The versions of a candidate, looked for only once; nothing where there are none.
    pub(super) fn pool(&mut self, candidate: Candidate<'p>) -> Option<Arc<pool::Pool<'p>>> {
        if let Some(pool) = self.pools.get(&candidate.key()) {
            return Some(Arc::clone(pool));
        }
        self.sample(candidate)?;
        let pool = Arc::new(self.fill(candidate, WANTED));
        self.pools.insert(candidate.key(), Arc::clone(&pool));
        Some(pool)
    }

    /// One version of a candidate; what was tried in vain is told.
    pub(super) fn sample(&mut self, candidate: Candidate<'p>) -> Option<Arc<pool::Pool<'p>>> {
        if let Some(sample) = self.samples.get(&candidate.key()) {
            return sample.clone();
        }
        let pool = self.fill(candidate, 1);
        let sample = if pool.kinds.is_empty() {
            self.notices.push(homework::Notice {
                place: candidate.template.place.clone(),
                what: format!(
                    "\"{}\" is left out: {}",
                    candidate.template.id,
                    pool.why_none()
                ),
            });
            None
        } else {
            Some(Arc::new(pool))
        };
        self.samples.insert(candidate.key(), sample.clone());
        sample
    }

    fn fill(&self, candidate: Candidate<'p>, wanted: usize) -> pool::Pool<'p> {
        let (bank, template, level) = candidate.key();
        let mut stream = seed::Stream::named(
            &["versions", &self.seed, bank, template],
            level.number().into(),
        );
        pool::fill(candidate.template, level, wanted, &mut stream)
    }
}
