//! A mechanism written as lines, so that reading gives it back.

use crate::gears::mechanism;
use crate::gears::notation::part;
use crate::number;

/// Returns the lines of a mechanism.
pub(crate) fn lines(mechanism: &mechanism::Mechanism) -> Vec<String> {
    let mut writer = Writer {
        mechanism,
        mentioned: 0,
        axles_written: vec![false; usize::from(mechanism.body_count)],
        lines: Vec::new(),
    };
    writer.write_joints();
    writer.write_axles();
    writer.write_riders();
    writer.mention_up_to(mechanism.parts.len());
    writer.write_tooth_sizes();
    for given in &mechanism.givens {
        let line = writer.given(given);
        writer.lines.push(line);
    }
    writer.lines
}

/// Returns the name of a part; `?` if it is not a part of this mechanism.
pub(crate) fn name(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> &str {
    mechanism
        .parts
        .get(usize::from(part.0))
        .map_or("?", |part| part.name.as_str())
}

struct Writer<'a> {
    mechanism: &'a mechanism::Mechanism,
    /// Parts below this index stand in the lines so far. Reading numbers parts
    /// by first mention, so parts must come up in order.
    mentioned: usize,
    axles_written: Vec<bool>,
    lines: Vec<String>,
}

impl Writer<'_> {
    /// Writes a part: in full the first time, then only its name.
    fn mention(&mut self, index: usize) -> String {
        let Some(part) = self.mechanism.parts.get(index) else {
            return "?".to_owned();
        };
        if index < self.mentioned {
            return part.name.clone();
        }
        self.mentioned = index + 1;
        part::written(&part.name, &part.kind)
    }

    /// Makes sure that a line which mentions these parts brings up new ones in
    /// their order, by declaring what would come up too late.
    fn prepare(&mut self, parts: &[usize]) {
        while !self.come_up_in_order(parts) {
            self.bring_up_next();
        }
    }

    fn come_up_in_order(&self, parts: &[usize]) -> bool {
        let mut next = self.mentioned;
        // An index that is no part of the mechanism can never come up.
        let known = parts
            .iter()
            .filter(|part| **part < self.mechanism.parts.len());
        for &part in known {
            if part > next {
                return false;
            }
            if part == next {
                next += 1;
            }
        }
        true
    }

    /// Brings up the next part: with its axle where that can be written, else alone.
    fn bring_up_next(&mut self) {
        let next = self.mentioned;
        let body = self.mechanism.parts.get(next).map(|part| part.body);
        let members = body.map_or_else(Vec::new, |body| self.members(body));
        if members.len() > 1 && self.come_up_in_order(&members) {
            self.write_axle(&members);
        } else {
            let line = self.mention(next);
            self.lines.push(line);
        }
    }

    fn mention_up_to(&mut self, end: usize) {
        while self.mentioned < end {
            self.bring_up_next();
        }
    }

    fn members(&self, body: mechanism::BodyId) -> Vec<usize> {
        let parts = self.mechanism.parts.iter().enumerate();
        parts
            .filter(|(_, part)| part.body == body)
            .map(|(index, _)| index)
            .collect()
    }

    fn write_axle(&mut self, members: &[usize]) {
        let body = members
            .first()
            .and_then(|first| self.mechanism.parts.get(*first))
            .map(|part| usize::from(part.body.0));
        if let Some(written) = body.and_then(|body| self.axles_written.get_mut(body)) {
            *written = true;
        }
        let mentions: Vec<String> = members.iter().map(|part| self.mention(*part)).collect();
        self.lines
            .push(format!("{} on one axle", mentions.join(", ")));
    }

    fn write_axles(&mut self) {
        for body in 0..self.mechanism.body_count {
            self.write_axle_of(mechanism::BodyId(body));
        }
    }

    /// Writes the axle of a body that holds several parts, unless it stands already.
    fn write_axle_of(&mut self, body: mechanism::BodyId) {
        let written = self.axles_written.get(usize::from(body.0));
        let members = self.members(body);
        if members.len() > 1 && written == Some(&false) {
            self.prepare(&members);
            // Bringing up parts in order may have written this very axle.
            if self.axles_written.get(usize::from(body.0)) == Some(&false) {
                self.write_axle(&members);
            }
        }
    }

    fn write_joints(&mut self) {
        let joints = &self.mechanism.joints;
        let mut rest = joints.iter().peekable();
        while let Some(joint) = rest.next() {
            let mut chain = vec![index(joint.first), index(joint.second)];
            self.write_axle_before(index(joint.first));
            if is_chained(*joint) {
                while let Some(next) = rest.next_if(|next| {
                    let last = chain.last() == Some(&index(next.first));
                    last && is_chained(**next)
                }) {
                    chain.push(index(next.second));
                }
            }
            self.prepare(&chain);
            let verb = if joint.driver_named {
                " drives "
            } else {
                " meshes with "
            };
            let mentions: Vec<String> = chain.iter().map(|part| self.mention(*part)).collect();
            let by = match joint.link {
                mechanism::Link::Mesh => "",
                mechanism::Link::Chain => " by chain",
                mechanism::Link::Belt => " by belt",
                mechanism::Link::CrossedBelt => " by crossed belt",
            };
            self.lines.push(format!("{}{by}", mentions.join(verb)));
        }
    }

    /// Writes the axle that a driver shares with a part already there, so that
    /// the lines follow the motion.
    fn write_axle_before(&mut self, driver: usize) {
        let Some(part) = self.mechanism.parts.get(driver) else {
            return;
        };
        let members = self.members(part.body);
        let known = members.iter().any(|member| *member < self.mentioned);
        if known && self.come_up_in_order(&members) {
            self.write_axle_of(part.body);
        }
    }

    fn write_riders(&mut self) {
        for body in 0..self.mechanism.body_count {
            let riders = self.members(mechanism::BodyId(body));
            let parts = &self.mechanism.parts;
            let Some(&rider) = riders.first() else {
                continue;
            };
            let arm = parts
                .get(rider)
                .and_then(|part| part.rides_on)
                .map(|arm| self.members(arm))
                .and_then(|members| {
                    members.into_iter().find(|member| {
                        parts
                            .get(*member)
                            .is_some_and(|part| part.kind == mechanism::Kind::Carrier)
                    })
                });
            if let Some(arm) = arm {
                self.prepare(&[rider, arm]);
                let line = format!("{} rides on {}", self.mention(rider), self.mention(arm));
                self.lines.push(line);
            }
        }
    }

    fn write_tooth_sizes(&mut self) {
        let toothed = || {
            self.mechanism
                .parts
                .iter()
                .filter(|part| part::KindWord::of(&part.kind).has_tooth_size())
        };
        let mut sizes: Vec<number::Number> =
            toothed().filter_map(|part| part.tooth_size_mm).collect();
        sizes.sort();
        sizes.dedup();
        let everywhere = toothed().all(|part| part.tooth_size_mm.is_some());
        let mut lines = Vec::new();
        for size in &sizes {
            let line = format!("tooth size {} mm", part::number_text(*size));
            if sizes.len() == 1 && everywhere {
                lines.push(line);
            } else {
                let names: Vec<&str> = toothed()
                    .filter(|part| part.tooth_size_mm == Some(*size))
                    .map(|part| part.name.as_str())
                    .collect();
                lines.push(format!("{line} on {}", names.join(", ")));
            }
        }
        self.lines.extend(lines);
    }

    fn given(&self, given: &mechanism::Given) -> String {
        let name = |part| name(self.mechanism, part);
        match given {
            mechanism::Given::Motion {
                part,
                amount,
                sense,
            } => {
                let part_name = name(*part);
                let slides = self
                    .mechanism
                    .parts
                    .get(index(*part))
                    .is_some_and(|part| part::KindWord::of(&part.kind) == part::KindWord::Rack);
                let mut line = match amount {
                    Some(mechanism::Amount::Turns(turns)) => {
                        format!("{part_name} turns {}", part::number_text(*turns))
                    }
                    Some(mechanism::Amount::Rpm(speed)) => {
                        format!("{part_name} runs at {} rpm", part::number_text(*speed))
                    }
                    Some(mechanism::Amount::Millimetres(distance)) => {
                        format!("{part_name} moves {} mm", value_text(*distance))
                    }
                    None if slides => format!("{part_name} moves"),
                    None => format!("{part_name} turns"),
                };
                if let Some(sense) = sense {
                    line = format!("{line} {}", sense_word(*sense));
                }
                line
            }
            mechanism::Given::Held(part) => format!("{} held still", name(*part)),
            mechanism::Given::Minutes(minutes) if *minutes == number::Number::ONE => {
                "for 1 minute".to_owned()
            }
            mechanism::Given::Minutes(minutes) => {
                format!("for {} minutes", part::number_text(*minutes))
            }
            mechanism::Given::Force { part, newtons } => {
                format!("force {} N at {}", part::number_text(*newtons), name(*part))
            }
            mechanism::Given::TurningForce { part, newton_cm } => format!(
                "turning force {} N cm on {}",
                part::number_text(*newton_cm),
                name(*part)
            ),
            mechanism::Given::Efficiency(share) => format!("efficiency {share}"),
            mechanism::Given::Apart { first, second, mm } => format!(
                "{} and {} {} mm apart",
                name(*first),
                name(*second),
                part::number_text(*mm)
            ),
            mechanism::Given::TakenOut { first, second } => {
                format!("{}, {} taken out", name(*first), name(*second))
            }
        }
    }
}

/// Whether a joint may stand in one line with the one before or after it.
fn is_chained(joint: mechanism::Joint) -> bool {
    joint.driver_named && joint.link == mechanism::Link::Mesh
}

fn index(part: mechanism::PartId) -> usize {
    usize::from(part.0)
}

fn sense_word(sense: mechanism::Sense) -> &'static str {
    match sense {
        mechanism::Sense::Clockwise => "clockwise",
        mechanism::Sense::Anticlockwise => "anticlockwise",
        mechanism::Sense::Left => "left",
        mechanism::Sense::Right => "right",
    }
}

fn value_text(value: number::Value) -> String {
    let factor = part::number_text(value.factor);
    match value.pi_power {
        0 => factor,
        1 => format!("{factor} pi"),
        power => format!("{factor} pi^{power}"),
    }
}
