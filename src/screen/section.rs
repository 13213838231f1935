//! One question as a section of the page.

use crate::drawing;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::gears::turning;
use crate::html;
use crate::item;
use crate::item::question;
use crate::screen;
use crate::screen::answer;
use crate::screen::figure;
use crate::screen::motion;
use crate::wording;

/// The room of a drawing, and the size of its type: about half of a wide screen.
const WIDTH_MM: f64 = 150.0;
const HEIGHT_MM: f64 = 84.0;
const TYPE_MM: f64 = 4.8;

/// One part with its answer.
struct Worked<'a> {
    letter: &'a str,
    item: &'a item::Item,
    answer: answer::Answer,
}

/// Returns a question's section.
///
/// # Errors
///
/// When a part of it has no right answer.
pub(super) fn section(question: &question::Question<'_>) -> Result<String, screen::NoAnswer> {
    let mut parts = Vec::new();
    for (letter, item) in &question.parts {
        parts.push(Worked {
            letter,
            item,
            answer: answer::answer(item)?,
        });
    }
    let number = html::text(&question.number);
    let id = format!("q{number}");
    let stages = stages(&parts, &id);
    let mut text = format!(
        "<section class=\"question\" id=\"{id}\" tabindex=\"-1\" aria-labelledby=\"{id}-title\">\
         <h2 id=\"{id}-title\">Question {number}</h2>\n"
    );
    if !question.story().is_empty() {
        add!(
            text,
            "<p class=\"story\">{}</p>\n",
            html::text(question.story())
        );
    }
    let can_turn = stages.as_ref().is_some_and(|stages| stages.can_turn);
    if let Some(stages) = &stages {
        figure_html(&mut text, stages);
    }
    text.push_str("<div class=\"parts\">\n");
    let last_telling = parts.iter().rposition(|part| motion::tells(&part.item.ask));
    let asks_whether = parts.iter().any(|part| {
        matches!(
            part.item.ask,
            ask::Ask::WillItTurn | ask::Ask::Why(ask::Explained::WillItTurn)
        )
    });
    for (index, part) in parts.iter().enumerate() {
        // Not where whether it turns is the question.
        let shows = if can_turn && !asks_whether && last_telling == Some(index) {
            "Show the answer and turn it"
        } else {
            "Show the answer"
        };
        part_html(&mut text, &id, part, shows);
    }
    text.push_str("</div>\n</section>\n");
    Ok(text)
}

fn part_html(text: &mut String, id: &str, part: &Worked<'_>, shows: &str) {
    let id = format!("{id}{}", html::text(part.letter));
    let tells = if motion::tells(&part.item.ask) {
        " data-tells"
    } else {
        ""
    };
    add!(
        text,
        "<div class=\"part\"{tells}><p class=\"asked\" id=\"{id}-asked\">"
    );
    if !part.letter.is_empty() {
        add!(text, "<b>{})</b> ", html::text(part.letter));
    }
    let marks = wording::counted(part.item.marks, "mark");
    add!(
        text,
        "{} <span class=\"marks\">[{marks}]</span></p>\n",
        html::text(&part.item.question)
    );
    let wanted = answer::wanted(part.item);
    if !wanted.is_empty() {
        add!(text, "<p class=\"wanted\">{}</p>\n", html::text(&wanted));
    }
    add!(
        text,
        "<button type=\"button\" class=\"show\" aria-expanded=\"false\" \
         aria-controls=\"{id}-answer\" aria-describedby=\"{id}-asked\" \
         data-shows=\"{shows}\">{shows}</button>\n\
         <div class=\"answer\" id=\"{id}-answer\" hidden><p class=\"result\">{}</p>\n",
        html::text(&part.answer.text)
    );
    if !part.answer.steps.is_empty() {
        add!(
            text,
            "<h3>{}</h3>\n<ul class=\"steps\">",
            part.answer.heading
        );
        for step in &part.answer.steps {
            add!(text, "<li>{}</li>", html::text(step));
        }
        text.push_str("</ul>\n");
    }
    text.push_str("</div></div>\n");
}

/// The drawing as it is asked about, and where something of it was hidden, as it is
/// once all is told.
struct Stages {
    asked: String,
    told: Option<String>,
    can_turn: bool,
    /// Whether it is known that it cannot turn.
    is_stuck: bool,
    remarks: Vec<String>,
    /// Whether something that is asked keeps it still.
    is_held: bool,
}

fn stages(parts: &[Worked<'_>], id: &str) -> Option<Stages> {
    let items: Vec<&item::Item> = parts.iter().map(|part| part.item).collect();
    let asked = question::drawn_mechanism(&items)?;
    let asks: Vec<ask::Ask> = items.iter().map(|item| item.ask.clone()).collect();
    let drawn = draw(&asked, &asks)?;
    let told = told(&asked, parts);
    let drawn_told = (told != asked).then(|| draw(&told, &[])).flatten();
    let (last, last_drawn) = match &drawn_told {
        Some(drawn_told) => (&told, drawn_told),
        None => (&asked, &drawn),
    };
    let motion = motion::motion(last, last_drawn);
    let picture = |mechanism, drawn, motion, stage: &str| {
        figure::figure(&figure::Picture {
            mechanism,
            drawn,
            motion,
            id: &format!("{id}-{stage}"),
        })
    };
    // What is shown first only moves where it is all that is shown.
    let first = motion.as_ref().filter(|_| drawn_told.is_none());
    Some(Stages {
        asked: picture(&asked, &drawn, first, "asked"),
        told: drawn_told
            .as_ref()
            .map(|drawn| picture(&told, drawn, motion.as_ref(), "told")),
        can_turn: motion.is_some(),
        is_stuck: motion.is_none() && is_stuck(last),
        remarks: motion.map(|it| it.remarks).unwrap_or_default(),
        is_held: asks.iter().any(motion::tells),
    })
}

/// Whether it is sure that a mechanism cannot turn: it is locked, held, or its teeth do
/// not fit.
fn is_stuck(mechanism: &mechanism::Mechanism) -> bool {
    solve::answer(mechanism, &ask::Ask::WillItTurn)
        .is_ok_and(|worked| worked.fact == ask::Fact::YesNo(false))
}

fn draw(mechanism: &mechanism::Mechanism, asks: &[ask::Ask]) -> Option<drawing::Drawing> {
    let wish = drawing::Wish {
        mechanism,
        asks,
        width_mm: WIDTH_MM,
        height_mm: HEIGHT_MM,
        type_mm: TYPE_MM,
    };
    drawing::draw(&wish).ok()
}

/// The mechanism with what its answers say of it: counts that were to be found, and
/// directions.
fn told(asked: &mechanism::Mechanism, parts: &[Worked<'_>]) -> mechanism::Mechanism {
    let mut told = asked.clone();
    for part in parts {
        let is_shown = match part.item.ask {
            ask::Ask::Teeth(_)
            | ask::Ask::Starts(_)
            | ask::Ask::Choose { .. }
            | ask::Ask::Direction(_) => true,
            ask::Ask::Turns(_)
            | ask::Ask::Speed(_)
            | ask::Ask::SameWay(..)
            | ask::Ask::Faster(..)
            | ask::Ask::Stronger(..)
            | ask::Ask::TurnsRatio(..)
            | ask::Ask::TeethRatio(..)
            | ask::Ask::Force(_)
            | ask::Ask::TurningForce(_)
            | ask::Ask::Distance(_)
            | ask::Ask::CentreDistance(..)
            | ask::Ask::PitchDiameter(_)
            | ask::Ask::TipDiameter(_)
            | ask::Ask::RootDiameter(_)
            | ask::Ask::ToothSize(_)
            | ask::Ask::WillItTurn
            | ask::Ask::Name(_)
            | ask::Ask::Job(_)
            | ask::Ask::Stages(_)
            | ask::Ask::MeetAgain(..)
            | ask::Ask::Why(_) => false,
        };
        // Of several right choices the first is shown.
        let fact = match &part.answer.fact {
            ask::Fact::Choices(choices) => {
                ask::Fact::Choices(choices.iter().take(1).cloned().collect())
            }
            ask::Fact::Quantity { .. }
            | ask::Fact::Ratio(..)
            | ask::Fact::Sense(_)
            | ask::Fact::YesNo(_)
            | ask::Fact::Which(_)
            | ask::Fact::Name(_)
            | ask::Fact::Job(_)
            | ask::Fact::Reasons(_) => part.answer.fact.clone(),
        };
        if is_shown && let Some(filled) = solve::with_answer(&told, &part.item.ask, &fact) {
            told = filled;
        }
    }
    // A count that is found on the way is shown as well.
    turning::turning(&told).map_or(told, |turning| turning.mechanism)
}

fn figure_html(text: &mut String, stages: &Stages) {
    let held = if stages.is_held { " data-held" } else { "" };
    let turns = if stages.can_turn { " data-turns" } else { "" };
    let stuck = if stages.is_stuck { " data-stuck" } else { "" };
    add!(text, "<figure class=\"drawing\"{held}{turns}{stuck}>\n");
    add!(text, "<div class=\"stage before\">{}</div>\n", stages.asked);
    if let Some(told) = &stages.told {
        add!(text, "<div class=\"stage after\" hidden>{told}</div>\n");
    }
    text.push_str("<figcaption>\n");
    if stages.is_held {
        text.push_str("<p class=\"held\">It stands still until the answer is shown.</p>\n");
    }
    if stages.can_turn {
        text.push_str(
            "<div class=\"controls\" hidden><button type=\"button\" class=\"play\">Turn it</button>\
             <button type=\"button\" class=\"slow\" aria-pressed=\"false\">Slowly</button>\
             <button type=\"button\" class=\"start\">From the start</button></div>\n",
        );
    } else if stages.is_stuck {
        text.push_str(
            "<div class=\"controls\" hidden>\
             <button type=\"button\" class=\"try\">Try to turn it</button></div>\n",
        );
    }
    if stages.can_turn {
        text.push_str("<p class=\"back\" hidden>Going back, to turn again.</p>\n");
    }
    if !stages.remarks.is_empty() {
        add!(
            text,
            "<p class=\"remark\" hidden>{}</p>\n",
            html::text(&stages.remarks.join(" "))
        );
    }
    text.push_str("</figcaption></figure>\n");
}
