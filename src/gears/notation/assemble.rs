//! Statements put together into one mechanism, with what does not agree.

use crate::gears::mechanism;
use crate::gears::notation::MOST_PARTS;
use crate::gears::notation::NotationError;
use crate::gears::notation::declared;
use crate::gears::notation::part;
use crate::gears::notation::statement;
use crate::gears::notation::text;
use crate::number;
use std::collections::BTreeMap;
use std::ops::Range;

/// Returns the mechanism that these statements, each with its line, make.
///
/// `unsure` are names that stand in lines which could not be read: nothing is
/// held against a part of such a name that no other line declares.
pub(crate) fn assemble(
    statements: &[(usize, statement::Statement)],
    unsure: &[String],
) -> Result<mechanism::Mechanism, Vec<NotationError>> {
    let mut assembly = Assembly::default();
    assembly.gather_parts(statements);
    assembly.check_parts(unsure);
    for (line, said) in statements {
        assembly.add(*line, said);
    }
    assembly.set_tooth_sizes();
    assembly.set_carriers();
    assembly.finish()
}

/// What is known of a part while the lines are gathered.
#[derive(Debug)]
struct Draft {
    name: String,
    /// Its first mention: the line and place.
    mentioned: (usize, Range<usize>),
    kind: Option<part::KindWord>,
    size: Option<part::Size>,
    /// The line on which kind and size were last added to.
    said_on: usize,
    /// The part that leads its body: itself, or one joined to it earlier.
    leader: usize,
    tooth_size: Option<number::Number>,
    rides_on: Option<usize>,
}

#[derive(Debug, Default)]
struct Assembly {
    drafts: Vec<Draft>,
    index: BTreeMap<String, usize>,
    joints: Vec<mechanism::Joint>,
    givens: Vec<mechanism::Given>,
    rides: Vec<(usize, usize, usize, Range<usize>)>,
    common_tooth_size: Option<(number::Number, usize)>,
    faults: Vec<NotationError>,
}

impl Assembly {
    fn fault(&mut self, line: usize, span: &Range<usize>, what: String, hint: impl Into<String>) {
        let fault = text::Fault::new(span.clone(), what, hint);
        self.faults.push(fault.on_line(line));
    }

    fn gather_parts(&mut self, statements: &[(usize, statement::Statement)]) {
        for (line, said) in statements {
            for mention in said.mentions() {
                self.note(*line, mention);
            }
        }
    }

    /// Notes a part when it is first mentioned, and what each mention adds.
    fn note(&mut self, line: usize, mention: &part::Mention) {
        let Some(&known) = self.index.get(&mention.name) else {
            if self.drafts.len() == MOST_PARTS {
                let what = format!(
                    "found {} as part number {}, wanted at most {MOST_PARTS} parts",
                    mention.name,
                    MOST_PARTS + 1
                );
                self.fault(line, &mention.span, what, "use fewer parts");
            }
            let index = self.drafts.len();
            self.index.insert(mention.name.clone(), index);
            self.drafts.push(Draft {
                name: mention.name.clone(),
                mentioned: (line, mention.span.clone()),
                kind: mention.kind,
                size: mention.size,
                said_on: line,
                leader: index,
                tooth_size: None,
                rides_on: None,
            });
            return;
        };
        let Some(draft) = self.drafts.get_mut(known) else {
            return;
        };
        let kind_agrees =
            mention.kind.is_none() || draft.kind.is_none_or(|it| Some(it) == mention.kind);
        let size_agrees =
            mention.size.is_none() || draft.size.is_none_or(|it| Some(it) == mention.size);
        if kind_agrees && size_agrees {
            if (draft.kind.is_none() && mention.kind.is_some())
                || (draft.size.is_none() && mention.size.is_some())
            {
                draft.said_on = line;
            }
            draft.kind = draft.kind.or(mention.kind);
            draft.size = draft.size.or(mention.size);
        } else {
            let what = format!(
                "found \"{}\", but line {} says \"{}\"",
                declared::said(&mention.name, mention.kind, mention.size),
                draft.said_on + 1,
                declared::said(&draft.name, draft.kind, draft.size)
            );
            let hint = "give each part a name of its own; once declared, its name is enough";
            self.fault(line, &mention.span, what, hint);
        }
    }

    fn check_parts(&mut self, unsure: &[String]) {
        let declared: Vec<String> = self
            .drafts
            .iter()
            .filter(|draft| draft.kind.is_some())
            .map(|draft| draft.name.clone())
            .collect();
        let mut faults = Vec::new();
        for draft in &self.drafts {
            let (line, span) = draft.mentioned.clone();
            let name = &draft.name;
            let fault = match draft.kind {
                None if unsure.contains(name) => None,
                None => Some(declared::unknown(name, &declared)),
                Some(kind) => declared::kind(kind, draft.size)
                    .is_none()
                    .then(|| declared::size_missing(name, kind)),
            };
            if let Some((what, hint)) = fault {
                faults.push(text::Fault::new(span, what, hint).on_line(line));
            }
        }
        self.faults.extend(faults);
    }

    /// The part's index; every mention was noted before.
    fn find(&self, mention: &part::Mention) -> usize {
        self.index
            .get(&mention.name)
            .copied()
            .expect("every mentioned part was noted")
    }

    fn kind(&self, index: usize) -> Option<part::KindWord> {
        self.drafts.get(index).and_then(|draft| draft.kind)
    }

    fn add(&mut self, line: usize, said: &statement::Statement) {
        match said {
            statement::Statement::Parts(_) => {}
            statement::Statement::Drives { chain, by } => {
                for (first, second) in chain.iter().zip(chain.iter().skip(1)) {
                    self.join(line, first, second, by.as_ref(), true);
                }
            }
            statement::Statement::Meshes { first, second, by } => {
                self.join(line, first, second, by.as_ref(), false);
            }
            statement::Statement::OneAxle(parts) => self.put_on_one_axle(line, parts),
            statement::Statement::RidesOn { planet, carrier } => {
                self.ride(line, planet, carrier);
            }
            statement::Statement::Motion {
                part,
                verb,
                amount,
                sense,
                span,
            } => {
                self.check_motion(line, part, *verb, *sense, span);
                let part = part_id(self.find(part));
                self.givens.push(mechanism::Given::Motion {
                    part,
                    amount: *amount,
                    sense: *sense,
                });
            }
            statement::Statement::Held(part) => {
                let part = part_id(self.find(part));
                self.givens.push(mechanism::Given::Held(part));
            }
            statement::Statement::Minutes { minutes, span } => {
                self.add_once(line, span, mechanism::Given::Minutes(*minutes), "the time");
            }
            statement::Statement::Efficiency { share, span } => {
                let given = mechanism::Given::Efficiency(*share);
                self.add_once(line, span, given, "the efficiency");
            }
            statement::Statement::Force { part, newtons } => self.add_force(line, part, *newtons),
            statement::Statement::TurningForce { part, newton_cm } => {
                self.add_turning_force(line, part, *newton_cm);
            }
            statement::Statement::ToothSize { mm, on, span } => {
                self.add_tooth_size(line, *mm, on, span);
            }
            statement::Statement::Apart { first, second, mm } => {
                self.check_two(line, first, second);
                self.givens.push(mechanism::Given::Apart {
                    first: part_id(self.find(first)),
                    second: part_id(self.find(second)),
                    mm: *mm,
                });
            }
            statement::Statement::TakenOut { first, second } => {
                self.check_two(line, first, second);
                self.givens.push(mechanism::Given::TakenOut {
                    first: part_id(self.find(first)),
                    second: part_id(self.find(second)),
                });
            }
        }
    }

    fn check_two(&mut self, line: usize, first: &part::Mention, second: &part::Mention) {
        if first.name == second.name {
            let what = format!("found {} twice, wanted two parts", first.name);
            self.fault(line, &second.span, what, "name the other part");
        }
    }

    fn join(
        &mut self,
        line: usize,
        first: &part::Mention,
        second: &part::Mention,
        by: Option<&statement::By>,
        driver_named: bool,
    ) {
        self.check_two(line, first, second);
        let (from, to) = (self.find(first), self.find(second));
        let kinds = (self.kind(from), self.kind(to));
        let both = |kind| kinds == (Some(kind), Some(kind));
        let joined_by = match by {
            Some(by) => {
                let (needed, noun) = match by.link {
                    mechanism::Link::Chain => (part::KindWord::Sprocket, "a chain joins sprockets"),
                    mechanism::Link::Mesh
                    | mechanism::Link::Belt
                    | mechanism::Link::CrossedBelt => {
                        (part::KindWord::Pulley, "a belt joins pulleys")
                    }
                };
                for mention in [first, second] {
                    let index = self.find(mention);
                    if let Some(kind) = self.kind(index).filter(|kind| *kind != needed) {
                        let what = format!(
                            "found {} {}, wanted a {}: {noun}",
                            kind.word(),
                            mention.name,
                            needed.word()
                        );
                        self.fault(line, &mention.span, what, "");
                    }
                }
                by.link
            }
            None if both(part::KindWord::Sprocket) => mechanism::Link::Chain,
            None if both(part::KindWord::Pulley) => mechanism::Link::Belt,
            None => mechanism::Link::Mesh,
        };
        self.joints.push(mechanism::Joint {
            first: part_id(from),
            second: part_id(to),
            link: joined_by,
            driver_named,
        });
    }

    fn put_on_one_axle(&mut self, line: usize, parts: &[part::Mention]) {
        let mut members = Vec::new();
        for mention in parts {
            let index = self.find(mention);
            if self.kind(index) == Some(part::KindWord::Rack) {
                let what = format!("found rack {} on an axle", mention.name);
                let hint = "a rack slides and has no axle; leave it out of this line";
                self.fault(line, &mention.span, what, hint);
            }
            members.push(index);
        }
        let Some((first, others)) = members.split_first() else {
            return;
        };
        for other in others {
            let (one, two) = (self.leader(*first), self.leader(*other));
            let leader = one.min(two);
            for draft in &mut self.drafts {
                if draft.leader == one || draft.leader == two {
                    draft.leader = leader;
                }
            }
        }
    }

    fn leader(&self, index: usize) -> usize {
        self.drafts.get(index).map_or(index, |draft| draft.leader)
    }

    fn ride(&mut self, line: usize, planet: &part::Mention, carrier: &part::Mention) {
        let (rider, arm) = (self.find(planet), self.find(carrier));
        match self.kind(arm) {
            Some(part::KindWord::Carrier) | None => {
                self.rides.push((rider, arm, line, planet.span.clone()));
            }
            Some(kind) => {
                let what = format!("found {} {}, wanted a carrier", kind.word(), carrier.name);
                let hint = "only a carrier has an arm that other gears ride on, such as carrier C";
                self.fault(line, &carrier.span, what, hint);
            }
        }
    }

    fn check_motion(
        &mut self,
        line: usize,
        part: &part::Mention,
        verb: statement::Verb,
        sense: Option<mechanism::Sense>,
        span: &Range<usize>,
    ) {
        let Some(kind) = self.kind(self.find(part)) else {
            return;
        };
        let slides = kind == part::KindWord::Rack;
        let travels = slides || kind == part::KindWord::Drum || kind == part::KindWord::Roller;
        let (name, word) = (&part.name, kind.word());
        match verb {
            statement::Verb::Turns | statement::Verb::RunsAt if slides => {
                let what = format!("found rack {name} turning");
                let hint = format!("a rack slides: write {name} moves 120 mm left");
                self.fault(line, &part.span, what, hint);
                return;
            }
            statement::Verb::Moves if !travels => {
                let what = format!("found {word} {name} moving along");
                let hint = format!("a {word} turns: write {name} turns 9 clockwise");
                self.fault(line, &part.span, what, hint);
                return;
            }
            statement::Verb::Turns | statement::Verb::RunsAt | statement::Verb::Moves => {}
        }
        let sideways = sense.map(|sense| match sense {
            mechanism::Sense::Left | mechanism::Sense::Right => true,
            mechanism::Sense::Clockwise | mechanism::Sense::Anticlockwise => false,
        });
        if sideways.is_some_and(|sideways| sideways != slides) {
            let what = if slides {
                format!("found a turning direction for rack {name}, wanted \"left\" or \"right\"")
            } else {
                format!(
                    "found \"left\" or \"right\" for {word} {name}, wanted \"clockwise\" or \"anticlockwise\""
                )
            };
            self.fault(line, span, what, "");
        }
    }

    fn add_once(&mut self, line: usize, span: &Range<usize>, given: mechanism::Given, what: &str) {
        let before = self
            .givens
            .iter()
            .find(|other| std::mem::discriminant(*other) == std::mem::discriminant(&given));
        match before {
            None => self.givens.push(given),
            Some(before) if *before == given => {}
            Some(_) => {
                let what = format!("found {what} for a second time, and not the same");
                self.fault(line, span, what, "leave one of the two lines out");
            }
        }
    }

    fn add_force(&mut self, line: usize, part: &part::Mention, newtons: number::Number) {
        let index = self.find(part);
        if let Some(kind) = self.kind(index) {
            let takes_force = match kind {
                part::KindWord::Handle
                | part::KindWord::Rack
                | part::KindWord::Drum
                | part::KindWord::Roller => true,
                part::KindWord::Gear
                | part::KindWord::Ring
                | part::KindWord::Bevel
                | part::KindWord::Worm
                | part::KindWord::Sprocket
                | part::KindWord::Pulley
                | part::KindWord::Motor
                | part::KindWord::Dynamo
                | part::KindWord::Carrier => false,
            };
            if !takes_force {
                let (name, word) = (&part.name, kind.word());
                let what = format!(
                    "found a force at {word} {name}, wanted a handle, a rack, a drum or a roller"
                );
                let hint = format!("write turning force 50 N cm on {name}");
                self.fault(line, &part.span, what, hint);
            }
        }
        self.givens.push(mechanism::Given::Force {
            part: part_id(index),
            newtons,
        });
    }

    fn add_turning_force(&mut self, line: usize, part: &part::Mention, newton_cm: number::Number) {
        let index = self.find(part);
        if self.kind(index) == Some(part::KindWord::Rack) {
            let what = format!("found a turning force on rack {}", part.name);
            let hint = format!("a rack slides: write force 20 N at {}", part.name);
            self.fault(line, &part.span, what, hint);
        }
        self.givens.push(mechanism::Given::TurningForce {
            part: part_id(index),
            newton_cm,
        });
    }

    fn add_tooth_size(
        &mut self,
        line: usize,
        mm: number::Number,
        on: &[part::Mention],
        span: &Range<usize>,
    ) {
        if on.is_empty() {
            match self.common_tooth_size {
                Some((before, earlier)) if before != mm => {
                    let what = format!(
                        "found a tooth size of {} mm for all parts, but line {} says {} mm",
                        part::number_text(mm),
                        earlier + 1,
                        part::number_text(before)
                    );
                    let hint = "say which part it is for, such as tooth size 2 mm on A";
                    self.fault(line, span, what, hint);
                }
                Some(_) | None => self.common_tooth_size = Some((mm, line)),
            }
        }
        for mention in on {
            let index = self.find(mention);
            if let Some(kind) = self.kind(index).filter(|kind| !kind.has_tooth_size()) {
                let what = format!("found a tooth size on {} {}", kind.word(), mention.name);
                let hint = "gears, ring gears, bevel gears, worms and racks have a tooth size";
                self.fault(line, &mention.span, what, hint);
            }
            let Some(draft) = self.drafts.get_mut(index) else {
                continue;
            };
            match draft.tooth_size {
                Some(before) if before != mm => {
                    let what = format!(
                        "found a tooth size of {} mm on {}, which was given {} mm before",
                        part::number_text(mm),
                        mention.name,
                        part::number_text(before)
                    );
                    self.fault(line, &mention.span, what, "leave one of the two lines out");
                }
                Some(_) | None => draft.tooth_size = Some(mm),
            }
        }
    }

    fn set_tooth_sizes(&mut self) {
        let Some((mm, _)) = self.common_tooth_size else {
            return;
        };
        for draft in &mut self.drafts {
            if draft.kind.is_some_and(part::KindWord::has_tooth_size) {
                draft.tooth_size = draft.tooth_size.or(Some(mm));
            }
        }
    }

    /// Everything on an axle that rides on a carrier rides on it.
    fn set_carriers(&mut self) {
        for (rider, arm, line, span) in std::mem::take(&mut self.rides) {
            let (body, arm_body) = (self.leader(rider), self.leader(arm));
            let before = self.drafts.get(body).and_then(|draft| draft.rides_on);
            if body == arm_body {
                let hint = "a carrier's own axle does not ride on it";
                let what = "found a part on the carrier's own axle, wanted one on its arm";
                self.fault(line, &span, what.to_owned(), hint);
            } else if before.is_some_and(|before| before != arm_body) {
                let what = "found an axle that rides on two carriers, wanted one";
                self.fault(
                    line,
                    &span,
                    what.to_owned(),
                    "leave one of the two lines out",
                );
            }
            for draft in &mut self.drafts {
                if draft.leader == body {
                    draft.rides_on = Some(arm_body);
                }
            }
        }
    }

    fn finish(self) -> Result<mechanism::Mechanism, Vec<NotationError>> {
        if !self.faults.is_empty() {
            return Err(self.faults);
        }
        let leaders: Vec<usize> = (0..self.drafts.len())
            .filter(|index| self.leader(*index) == *index)
            .collect();
        let body = |leader: usize| -> mechanism::BodyId {
            let place = leaders.partition_point(|other| *other < leader);
            mechanism::BodyId(small(place))
        };
        let parts = self
            .drafts
            .iter()
            .filter_map(|draft| {
                Some(mechanism::Part {
                    name: draft.name.clone(),
                    kind: declared::kind(draft.kind?, draft.size)?,
                    body: body(draft.leader),
                    tooth_size_mm: draft.tooth_size,
                    rides_on: draft.rides_on.map(body),
                })
            })
            .collect();
        Ok(mechanism::Mechanism {
            parts,
            body_count: small(leaders.len()),
            joints: self.joints,
            givens: self.givens,
        })
    }
}

fn part_id(index: usize) -> mechanism::PartId {
    mechanism::PartId(small(index))
}

/// More than [`MOST_PARTS`] parts are a fault, and such a mechanism is never handed out.
fn small(index: usize) -> u16 {
    u16::try_from(index).unwrap_or(u16::MAX)
}
