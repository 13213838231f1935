//! The loop closed: set, answered by a made-up class, marked, and set after that, round
//! after round.

use crate::banks;
use crate::program;
use crate::program::Program;
use crate::simulation::classwork;
use crate::simulation::hand;
use crate::simulation::pupil;
use crate::simulation::school;
use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::fs;
use toothmark::bank;
use toothmark::gears::notation;
use toothmark::gears::solve;
use toothmark::homework;
use toothmark::item;
use toothmark::item::apart;
use toothmark::level;
use toothmark::marking;
use toothmark::marking::findings;
use toothmark::marking::policy;
use toothmark::misconception;
use toothmark::next;
use toothmark::seed;

/// What a class was set, did and got.
struct Round {
    homework: homework::Homework,
    marked: marking::Marked,
    next: Option<next::Next>,
}

/// A made-up pupil who holds these beliefs and never slips.
fn made_up(id: &str, believes: &[&str]) -> school::Pupil {
    school::Pupil {
        on_roll: homework::Pupil {
            id: id.to_owned(),
            name: format!("Pupil {id}"),
            class: "5 Oak".to_owned(),
            year: "5".to_owned(),
            level: None,
            groups: BTreeMap::new(),
        },
        mind: pupil::Mind {
            believes: believes.iter().map(|it| (*it).to_owned()).collect(),
            steadiness: 100,
            slips: 0,
            leaves_out: 0,
            reaches: None,
        },
        attendance: "",
        hand: hand::Hand::Plain,
    }
}

/// A class answers a homework, and it is marked.
fn marked(
    homework: &homework::Homework,
    pupils: &[school::Pupil],
    round: usize,
) -> marking::Marked {
    let work = classwork::done_by(pupils, homework, &format!("round {round}"));
    let table = classwork::table(homework, &work);
    let answers = toothmark::workbook::answers::read("answers.csv", &csv(&table), homework)
        .expect("the class's answers are read");
    marking::mark_homework(&marking::Batch {
        homework,
        responses: &answers.responses,
        decisions: &[],
        policy: &policy::Policy::default(),
        date: &homework.date,
    })
}

fn csv(table: &[Vec<String>]) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in table {
        writer.write_record(row).expect("written");
    }
    writer.into_inner().expect("written")
}

/// Rounds of a plan for a class, a week apart, without files.
fn rounds(
    banks: &[bank::Bank],
    pupils: &mut [school::Pupil],
    levels: &str,
    count: usize,
    seed: &str,
    mut between: impl FnMut(usize, &mut [school::Pupil]),
) -> Vec<Round> {
    let mut rounds: Vec<Round> = Vec::new();
    let dates = ["2026-10-06", "2026-10-13", "2026-10-20", "2026-11-03"];
    for (round, date) in dates.iter().enumerate() {
        between(round, pupils);
        let plan = homework::Plan {
            banks,
            pupils: pupils.iter().map(|pupil| pupil.on_roll.clone()).collect(),
            year: None,
            levels: levels.parse().expect("a span"),
            skills: Vec::new(),
            questions: homework::Questions::Count(count),
            versions: homework::Versions::Each,
            seed: format!("{seed} {round}"),
            title: "Round".to_owned(),
            date: (*date).to_owned(),
            keep_until: None,
        };
        let (homework, next) = if rounds.is_empty() {
            (homework::set(&plan).expect("a homework").0, None)
        } else {
            let records: Vec<next::Record> = rounds
                .iter()
                .map(|round| next::Record::new(&round.marked, Some(round.homework.clone())))
                .collect();
            let next = next::plan(&records, &plan);
            let wished: Vec<homework::wish::Wished> =
                next.pupils.iter().map(|it| it.wished.clone()).collect();
            let fulfilled = homework::set_wished(&plan, &wished).expect("a homework");
            for (pupil, granted) in next.pupils.iter().zip(&fulfilled.granted) {
                let line = next::why(pupil, granted);
                assert!(!line.contains('\n') && line.ends_with('.'), "{line}");
            }
            (fulfilled.homework, Some(next))
        };
        let marked = marked(&homework, pupils, round);
        rounds.push(Round {
            homework,
            marked,
            next,
        });
    }
    rounds
}

fn items<'h>(homework: &'h homework::Homework, id: &str) -> &'h [item::Item] {
    let assignment = homework.pupils.iter().find(|it| it.pupil.id == id);
    &homework.sheets[assignment.expect("on the roll").sheet].items
}

fn marks(items: &[item::Item]) -> u32 {
    items.iter().map(|item| u32::from(item.marks)).sum()
}

/// The numbers of questions that someone who thinks so gets wrong.
fn shown(items: &[item::Item], id: &str) -> BTreeSet<String> {
    items
        .iter()
        .filter(|item| {
            let worked = solve::answer(&item.mechanism, &item.ask).expect("it solves");
            let predictions = misconception::predictions(&item.mechanism, &item.ask);
            apart::traces(&worked.fact, &predictions).fails(id)
        })
        .map(|item| question(&item.number).to_owned())
        .collect()
}

fn question(number: &str) -> &str {
    number.trim_end_matches(char::is_alphabetic)
}

/// Each question with its numbers, whatever its story.
fn asked(items: &[item::Item]) -> Vec<String> {
    let mut asked: BTreeMap<&str, String> = BTreeMap::new();
    for item in items {
        let text = asked.entry(question(&item.number)).or_default();
        text.push_str(&item.template);
        text.push_str(&notation::write(&item.mechanism).join("; "));
        text.push_str(&notation::write_ask(&item.ask, &item.mechanism));
    }
    asked.into_values().collect()
}

fn entry<'m>(marked: &'m marking::Marked, id: &str) -> &'m marking::MarkedPupil {
    let entry = marked.pupils.iter().find(|entry| entry.pupil.id == id);
    entry.expect("a pupil who was marked")
}

/// The laws of every next homework, over whole rounds.
fn keeps_the_laws(rounds: &[Round], levels: &str, count: usize) {
    let span: level::Span = levels.parse().expect("a span");
    let mut met: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    for (number, round) in rounds.iter().enumerate() {
        let total = marks(&round.homework.sheets[0].items);
        for assignment in &round.homework.pupils {
            let id = assignment.pupil.id.as_str();
            let items = items(&round.homework, id);
            assert!(items.iter().all(|item| span.contains(item.level)), "{id}");
            let asked = asked(items);
            assert_eq!(asked.len(), count, "{id} in round {number}");
            let before = met.entry(id).or_default();
            if round.next.is_some() {
                assert_eq!(marks(items), total, "{id} in round {number}");
                for question in &asked {
                    assert!(!before.contains(question), "{id} has met {question}");
                }
            }
            before.extend(asked);
        }
        let text = homework::to_json(&round.homework);
        let read = homework::from_json(&text, "homework.json").expect("it was just written");
        assert_eq!(read, round.homework);
        let Some(next) = &round.next else { continue };
        for pupil in &next.pupils {
            for belief in &pupil.beliefs {
                let id = pupil.wished.pupil_id.as_str();
                let recent = rounds[..number].iter().rev().take(next::RECENT);
                let answers: Vec<&[String]> = recent
                    .flat_map(|round| &entry(&round.marked, id).marks)
                    .map(|mark| mark.misconceptions.as_slice())
                    .collect();
                for idea in &belief.ideas {
                    let has = answers
                        .iter()
                        .filter(|ids| ids.iter().any(|it| it == idea.id));
                    assert!(has.count() >= findings::FEWEST_ANSWERS, "{id}: {}", idea.id);
                }
            }
        }
    }
}

#[test]
fn whoever_holds_a_belief_is_asked_about_it_until_it_has_gone() {
    let all = banks::shipped();
    let banks: Vec<bank::Bank> = all.into_iter().filter(|it| it.id == "gears-7-11").collect();
    let mut pupils = [
        made_up("B1", &["same-speed"]),
        made_up("B2", &["big-gear-faster", "ratio-upside-down"]),
        made_up("N1", &[]),
        made_up("N2", &[]),
    ];
    // B1 is taught between the second round and the third.
    let rounds = rounds(&banks, &mut pupils, "3-5", 10, "belief", |round, pupils| {
        if round == 2 {
            pupils[0].mind.believes.clear();
        }
    });
    keeps_the_laws(&rounds, "3-5", 10);
    let planned = |round: usize, place: usize| -> &next::Pupil {
        let next = rounds[round].next.as_ref().expect("a planned round");
        &next.pupils[place]
    };
    // B1 gets questions on it in the rounds after it was seen, and none once it has gone.
    for round in [1, 2] {
        let beliefs = &planned(round, 0).beliefs;
        assert!(
            beliefs.iter().any(|it| it.ids() == ["same-speed"]),
            "round {round}: {beliefs:?}"
        );
        let questions = shown(items(&rounds[round].homework, "B1"), "same-speed");
        assert!(questions.len() >= 2, "round {round}: {questions:?}");
    }
    let last = planned(3, 0);
    assert!(last.beliefs.is_empty(), "{:?}", last.beliefs);
    assert!(
        last.gone.iter().any(|it| it.ids() == ["same-speed"]),
        "{:?}",
        last.gone
    );
    // B2 keeps the belief and is asked again and again.
    for (number, round) in rounds.iter().enumerate().skip(1) {
        let beliefs = &planned(number, 1).beliefs;
        assert!(!beliefs.is_empty(), "round {number}");
        for belief in beliefs.iter().take(2) {
            for id in belief.ids() {
                let questions = shown(items(&round.homework, "B2"), id);
                assert!(questions.len() >= 2, "round {number}, {id}: {questions:?}");
            }
        }
    }
    // Those without a belief get no such question, and go up to the top of the span.
    for place in [2, 3] {
        for round in 1..4 {
            assert!(planned(round, place).beliefs.is_empty());
            assert_eq!(planned(round, place).level().number(), 5, "round {round}");
        }
    }
}

/// Bank, levels and how many questions.
const CLASSES: [(&str, &str, usize); 3] = [
    ("gears-5-7", "1-3", 8),
    ("gears-7-11", "3-5", 11),
    ("gears-11-14", "5-8", 9),
];

#[test]
fn random_classes_keep_the_laws_of_the_next_homework() {
    let all = banks::shipped();
    let ids: Vec<&str> = misconception::all().iter().map(|it| it.id).collect();
    for number in 0..3 {
        let mut stream = seed::Stream::named(&["next homework"], number);
        let (bank, levels, count) = CLASSES[usize::try_from(number).expect("a small number")];
        let banks = all.iter().filter(|it| it.id == bank);
        let banks: Vec<bank::Bank> = banks.cloned().collect();
        let mut pupils: Vec<school::Pupil> = (0..4)
            .map(|place| {
                let beliefs: Vec<&str> = (0..stream.index(4))
                    .filter_map(|_| stream.choose(&ids).copied())
                    .collect();
                let mut pupil = made_up(&format!("R{place}"), &beliefs);
                pupil.mind.steadiness = 60 + stream.below(41);
                pupil.mind.slips = stream.below(40);
                pupil.mind.leaves_out = stream.below(20);
                pupil
            })
            .collect();
        let seed = format!("random {number}");
        let rounds = rounds(
            &banks,
            &mut pupils,
            levels,
            count,
            &seed,
            |round, pupils| {
                // Somebody is away each time.
                for (place, pupil) in pupils.iter_mut().enumerate() {
                    pupil.attendance = match (round + place) % 5 {
                        0 => "absent",
                        1 if round == 1 => "excused",
                        _ => "",
                    };
                }
            },
        );
        keeps_the_laws(&rounds, levels, count);
        for (number, round) in rounds.iter().enumerate() {
            let Some(next) = &round.next else { continue };
            for pupil in &next.pupils {
                let id = pupil.wished.pupil_id.as_str();
                let attendance = |round: &Round| entry(&round.marked, id).attendance;
                let was_absent = rounds[..number]
                    .iter()
                    .rev()
                    .map(attendance)
                    .take_while(|it| *it != marking::Attendance::Present)
                    .any(|it| it == marking::Attendance::Absent);
                assert_eq!(
                    !pupil.missed.is_empty(),
                    was_absent,
                    "{id} in round {number}"
                );
            }
        }
    }
}

const ROLL: &str = "pupil id,name,class,year\n\
    B1,Runa Larkmoor,5 Rowan,5\n\
    N1,Milos Quenby,5 Rowan,5\n\
    N2,Dilys Tarnholme,5 Rowan,5\n";

/// A pupil who has joined, in place of one who has left.
const LATER_ROLL: &str = "pupil id,name,class,year\n\
    B1,Runa Larkmoor,5 Rowan,5\n\
    N1,Milos Quenby,5 Rowan,5\n\
    J1,Oke Farrowby,5 Rowan,5\n";

fn command(line: &str) -> Vec<String> {
    line.split_whitespace().map(str::to_owned).collect()
}

/// The class answers what lies in a folder, and it is marked.
fn answer_and_mark(program: Program, folder: &str, believes: &[&str]) -> Program {
    let record = program.read(&format!("{folder}/homework.json"));
    let homework = homework::from_json(&record, "homework.json").expect("a record");
    let pupils: Vec<school::Pupil> = homework
        .pupils
        .iter()
        .map(|assignment| {
            let id = assignment.pupil.id.as_str();
            made_up(id, if id == "B1" { believes } else { &[] })
        })
        .collect();
    let work = classwork::done_by(&pupils, &homework, folder);
    let table = classwork::table(&homework, &work);
    let answers = format!("{folder}/form.csv");
    let program = program.file(&answers, csv(&table)).anew();
    let program = program.arguments(["mark", &answers]);
    program.run().succeeded();
    program.anew()
}

/// The rows of the worksheet that says why.
fn whys(program: &Program, folder: &str) -> BTreeMap<String, String> {
    let bytes = fs::read(program.path(folder).join("answers.xlsx")).expect("a workbook");
    let book = toothmark::workbook::cells::read(&bytes).expect("our own workbook");
    let grid = book
        .grids
        .iter()
        .find(|grid| grid.name == "Why these questions");
    let grid = grid.expect("the worksheet is there");
    let text = |row: u32, column: u32| {
        grid.cell(row, column)
            .map(toothmark::workbook::undo::text)
            .unwrap_or_default()
    };
    (5..40)
        .map(|row| (text(row, 0), text(row, 3)))
        .filter(|(id, _)| !id.is_empty())
        .collect()
}

#[test]
fn the_program_sets_by_what_was_marked_before_and_says_why() {
    let bank = fs::read(program::root().join("question-banks/gears-7-11.toml")).expect("a bank");
    let set = "set --bank bank.toml --level 3-5 --questions 8";
    let program = Program::new()
        .file("bank.toml", bank)
        .file("roll.csv", ROLL)
        .file("later.csv", LATER_ROLL)
        .arguments(command(&format!(
            "{set} --roll roll.csv --seed one --date 2026-10-06 --out one"
        )));
    program.run().succeeded();
    let program = answer_and_mark(program, "one", &["same-speed"]);
    let program = program.arguments(command(&format!(
        "{set} --roll later.csv --after one --seed two --date 2026-10-13 --out two"
    )));
    let run = program.run().succeeded();
    assert!(run.stderr.contains("get no sheet: N2"), "{}", run.stderr);
    assert!(
        run.stdout.contains("Went by 1 marked homework"),
        "{}",
        run.stdout
    );
    for text in [&run.stdout, &run.stderr] {
        for name in ["Runa", "Milos", "Dilys", "Oke"] {
            assert!(!text.contains(name), "names stay off the terminal:\n{text}");
        }
    }
    let whys_two = whys(&program, "two");
    let ids: Vec<&str> = whys_two.keys().map(String::as_str).collect();
    assert_eq!(ids, ["B1", "J1", "N1"]);
    assert!(
        whys_two["B1"].contains("takes all gears to turn alike, so 2 questions"),
        "{whys_two:?}"
    );
    assert!(!whys_two["N1"].contains("consistent with"), "{whys_two:?}");
    assert!(
        whys_two["N1"].starts_with("Level 5, one up"),
        "{whys_two:?}"
    );
    assert!(
        whys_two["J1"].starts_with("Level 4, as nothing is known yet"),
        "{whys_two:?}"
    );
    for name in ["homework.json", "sheets.pdf", "mark-scheme.pdf"] {
        assert!(program.path("two").join(name).is_file(), "{name}");
    }
    // The workbook itself is read back by marking, the worksheet for the teacher is not.
    let program = program
        .anew()
        .arguments(["mark", "two/answers.xlsx", "--out", "untouched"]);
    program.run().succeeded();
    // Taught in between, answered from the sheets, marked, and set once more.
    let program = answer_and_mark(program.anew(), "two", &[]);
    let program = program.arguments(command(&format!(
        "{set} --roll later.csv --after one/marked.json two --seed three --date 2026-10-20 --out three"
    )));
    program.run().succeeded();
    let whys_three = whys(&program, "three");
    assert!(
        whys_three["B1"]
            .contains("no longer answers like someone who takes all gears to turn alike"),
        "{whys_three:?}"
    );
    assert!(
        !whys_three["B1"].contains("consistent with"),
        "{whys_three:?}"
    );
    // The same command gives the same files.
    let again = program.anew().arguments(command(&format!(
        "{set} --roll later.csv --after one/marked.json two --seed three --date 2026-10-20 --out again"
    )));
    again.run().succeeded();
    for name in [
        "homework.json",
        "answers.xlsx",
        "sheets.pdf",
        "mark-scheme.pdf",
    ] {
        let files = ["three", "again"].map(|folder| fs::read(again.path(folder).join(name)));
        let [one, two] = files.map(|file| file.expect("it was written"));
        assert!(one == two, "{name} differs");
    }
}

#[test]
fn what_stands_in_the_way_of_the_next_homework_is_told_at_once() {
    let bank = fs::read(program::root().join("question-banks/gears-5-7.toml")).expect("a bank");
    let program = Program::new()
        .file("bank.toml", bank)
        .file("roll.csv", ROLL)
        .file("empty/note.txt", "")
        .file("bad/marked.json", "{}")
        .arguments(command(
            "set --bank bank.toml --roll roll.csv --level 1-2 --questions 4 \
             --after empty bad missing.json --out hw",
        ));
    let run = program.run().ended_with(1);
    for told in ["empty: there is no marked.json", "bad", "missing.json"] {
        assert!(
            run.stderr.contains(told),
            "{told} is missing in:\n{}",
            run.stderr
        );
    }
    assert!(!program.path("hw").exists());
    let program = program.anew().arguments(command(
        "set --bank bank.toml --roll roll.csv --level 1-2 --questions all --after bad --out hw",
    ));
    let run = program.run().ended_with(1);
    assert!(run.stderr.contains("bad"), "{}", run.stderr);
}
