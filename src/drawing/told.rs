//! What a child would see in the drawing, in sentences: the text alternative.
//!
//! It tells parts, counts and what touches what, the arrows and the question marks;
//! never who drives, how anything turns unless told, or what is asked.

use crate::drawing::note;
use crate::drawing::plan;
use crate::gears::mechanism;
use crate::wording;

/// What the picture turned out to show.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Shown {
    /// The parts with an arrow.
    pub(super) arrows: Vec<mechanism::PartId>,
    /// The parts of which something is broken off.
    pub(super) broken_off: Vec<mechanism::PartId>,
}

/// Returns the text alternative.
pub(super) fn told(
    mechanism: &mechanism::Mechanism,
    plan: &plan::Plan,
    notes: &note::Notes,
    shown: &Shown,
) -> String {
    let teller = Teller { mechanism, notes };
    let mut sentences = Vec::new();
    let mut met: Vec<mechanism::PartId> = Vec::new();
    let mut mention = |part: mechanism::PartId| {
        if met.contains(&part) {
            teller.name(part)
        } else {
            met.push(part);
            teller.with_size(part)
        }
    };
    for joint in &mechanism.joints {
        let (first, second) = (mention(joint.first), mention(joint.second));
        let fits = plan.edges.iter().all(|edge| {
            edge.tie != plan::Tie::Misfit
                || !joint.joins(plan.wheels[edge.first].part, plan.wheels[edge.second].part)
        });
        sentences.push(match joint.link {
            mechanism::Link::Mesh if fits => format!("{first} meshes with {second}"),
            mechanism::Link::Mesh => format!("{first} stands beside {second}"),
            mechanism::Link::Chain => format!("a chain goes round {first} and {second}"),
            mechanism::Link::Belt => format!("a belt goes round {first} and {second}"),
            mechanism::Link::CrossedBelt => {
                format!("a belt that crosses over itself goes round {first} and {second}")
            }
        });
    }
    for body in 0..mechanism.body_count {
        let on_axle: Vec<mechanism::PartId> = mechanism
            .numbered()
            .filter(|(_, part)| part.body == mechanism::BodyId(body))
            .map(|(id, _)| id)
            .collect();
        if let [first, rest @ ..] = on_axle.as_slice()
            && !rest.is_empty()
        {
            let mut names = vec![mention(*first)];
            names.extend(rest.iter().map(|part| mention(*part)));
            sentences.push(format!("{} are fixed on one axle", listed(&names)));
        }
    }
    for (id, part) in mechanism.numbered() {
        if let Some(arm) = part.rides_on
            && let Some((carrier, _)) = mechanism
                .numbered()
                .find(|(_, it)| it.body == arm && it.kind == mechanism::Kind::Carrier)
        {
            let (rider, arm) = (mention(id), mention(carrier));
            sentences.push(format!("{arm} holds the axle of {rider}"));
        }
    }
    for (id, _) in mechanism.numbered() {
        let (known, part) = (teller.name(id), mention(id));
        if known != part {
            sentences.push(format!("there is {part}"));
        }
    }
    for (part, _, _) in &notes.labels {
        let mechanism::Kind::Rack { above } = mechanism.part(*part).kind else {
            continue;
        };
        let side = if above { "above" } else { "below" };
        sentences.push(format!("{} lies {side} its partner", teller.name(*part)));
    }
    for given in &mechanism.givens {
        if let mechanism::Given::Held(part) = given {
            sentences.push(format!("{} is held still", teller.name(*part)));
        }
    }
    sentences.extend(teller.marks(plan, &shown.arrows));
    for part in &shown.broken_off {
        sentences.push(format!(
            "{} is so large that it is broken off at the top and the bottom",
            teller.name(*part)
        ));
    }
    let said: Vec<String> = sentences
        .iter()
        .map(|sentence| format!("{}.", capital(sentence).trim_end_matches(',')))
        .collect();
    format!("Drawing. {}", said.join(" "))
}

struct Teller<'a> {
    mechanism: &'a mechanism::Mechanism,
    notes: &'a note::Notes,
}

impl Teller<'_> {
    /// A part's kind and name; only its name where what such a part is called is asked.
    fn name(&self, part: mechanism::PartId) -> String {
        self.unless_asked(part, wording::part_name(self.mechanism, part))
    }

    /// A part with its size, or how it looks where its name is asked.
    fn with_size(&self, part: mechanism::PartId) -> String {
        if !self.notes.unnamed.contains(&part) {
            return self.unless_asked(part, wording::part(self.mechanism, part));
        }
        let found = self.mechanism.part(part);
        format!("part {}, {},", found.name, looks(&found.kind))
    }

    /// The words for a part, without its kind where another of that kind is asked about.
    fn unless_asked(&self, part: mechanism::PartId, said: String) -> String {
        let kind = |part: mechanism::PartId| wording::kind_name(&self.mechanism.part(part).kind);
        let is_asked = self
            .notes
            .unnamed
            .iter()
            .any(|asked| kind(*asked) == kind(part));
        match said.strip_prefix(kind(part)) {
            Some(rest) if is_asked => format!("part{rest}"),
            Some(_) | None => said,
        }
    }

    /// Arrows, question marks, plain circles, dashes.
    fn marks(&self, plan: &plan::Plan, arrows: &[mechanism::PartId]) -> Vec<String> {
        let mut sentences = Vec::new();
        for (part, sense) in &self.notes.arrows {
            if arrows.contains(part) {
                let way = wording::sense(*sense);
                sentences.push(format!("an arrow on {} points {way}", self.name(*part)));
            }
        }
        for part in &self.notes.asked {
            if arrows.contains(part) {
                sentences.push(format!(
                    "an arrow with two heads and a question mark stands at {}",
                    self.name(*part)
                ));
            }
        }
        for shaft in &plan.shafts {
            if shaft.thread.is_unknown() {
                sentences.push(format!("{} is drawn plain", self.name(shaft.part)));
            }
        }
        for wheel in &plan.wheels {
            if wheel.form.is_plain() {
                sentences.push(format!(
                    "{} is a plain circle, not drawn to size",
                    self.name(wheel.part)
                ));
            }
            if wheel.taken_out {
                sentences.push(format!("{} is drawn in dashes", self.name(wheel.part)));
            }
        }
        sentences
    }
}

/// What a child sees of a part whose name is asked.
fn looks(kind: &mechanism::Kind) -> &'static str {
    match kind {
        mechanism::Kind::Gear { .. } => "a wheel with teeth",
        mechanism::Kind::Ring { .. } => "a hoop with teeth on its inside",
        mechanism::Kind::Bevel { .. } => "a wheel with teeth, shaped like a slice of a cone",
        mechanism::Kind::Worm { .. } => "a rod with a thread round it like a screw",
        mechanism::Kind::Rack { .. } => "a straight bar with teeth",
        mechanism::Kind::Sprocket { .. } => "a wheel with pointed teeth",
        mechanism::Kind::Pulley { .. } => "a smooth wheel",
        mechanism::Kind::Handle { .. } => "an arm with a knob",
        mechanism::Kind::Drum { .. } => "a roller with string on it, from which a load hangs",
        mechanism::Kind::Roller { .. } => "a smooth round thing that stands on the ground",
        mechanism::Kind::Motor | mechanism::Kind::Dynamo => "a box on the axle",
        mechanism::Kind::Carrier => "an arm between two axles",
    }
}

fn listed(names: &[String]) -> String {
    match names.split_last() {
        None => String::new(),
        Some((only, [])) => only.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
    }
}

fn capital(text: &str) -> String {
    let mut signs = text.chars();
    signs.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(signs).collect()
    })
}
