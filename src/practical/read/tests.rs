use super::*;
use crate::practical::card;

const HEAD: &str = "format = 1\n[tasks]\nid = \"t\"\ntitle = \"T\"\nedition = \"1\"\n";

fn faults(text: &str) -> Vec<String> {
    let faults = read(text, "t.toml").expect_err("faults");
    faults
        .iter()
        .map(|fault| format!("{}: {}", fault.place, fault.what))
        .collect()
}

#[test]
fn the_tasks_that_come_with_the_program_are_sound() {
    let text = practical::usual_text();
    let tasks = read(text, "question-banks/tasks/gears.toml").unwrap_or_else(|faults| {
        let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
        panic!("{}", said.join("\n"));
    });
    for level in level::Level::all() {
        let count = tasks.suiting(level.into(), &[]).len();
        assert!(count >= 3, "level {level} has {count} tasks");
    }
}

#[test]
fn every_shipped_task_has_its_answers_and_what_it_needs() {
    for task in &practical::usual().tasks {
        let card = card::card(task);
        assert_eq!(card.worked.len(), task.predictions.len(), "{}", task.id);
        assert!(card.worked.iter().all(|worked| !worked.answer.is_empty()));
        assert!(card.needs.len() >= 3, "{}: {:?}", task.id, card.needs);
    }
}

#[test]
fn every_fault_of_a_file_is_told_at_once_with_its_place() {
    let text = format!(
        "{HEAD}[[task]]\nid = \"one\"\ntitle = \"\"\nskill = \"turn\"\nlevels = [1, 9]\n\
         mechanism = [\"gear A 12 drives gear B 36\", \"A turns 6\"]\n\
         steps = [\"Turn {{C}}.\"]\nexplain = \"Why?\"\nhow = 1\n\
         [[task.predict]]\nask = \"turns of D\"\n[[task.predict]]\nask = \"faster of A, B\"\n"
    );
    assert_eq!(
        faults(&text),
        [
            "t.toml:8:9: the text is empty",
            "t.toml:9:9: `skill`: \"turn\" is no skill",
            "t.toml:10:14: `levels`: found the number 9, wanted a level",
            "t.toml:11:13: gear B has 36 teeth; level 1 allows 4 to 12",
            "t.toml:12:16: there is no part {C}",
            "t.toml:14:1: unknown key `how`",
            "t.toml:16:17: found D, which is no part of the mechanism",
            "t.toml:18:7: this is asked from level 2 on, not at level 1",
        ]
    );
}

#[test]
fn a_task_that_has_no_answer_is_told() {
    let text = format!(
        "{HEAD}[[task]]\nid = \"one\"\ntitle = \"T\"\nskill = \"turns\"\nlevels = [4]\n\
         mechanism = [\"gear A 12 drives gear B 36\"]\nsteps = [\"Turn {{A}}.\"]\n\
         explain = \"Why?\"\n[[task.predict]]\nask = \"turns of B\"\n"
    );
    assert_eq!(faults(&text).len(), 1, "{:?}", faults(&text));
    assert!(
        faults(HEAD)
            .iter()
            .any(|fault| fault.contains("`task` is missing"))
    );
}

#[test]
fn steps_tell_the_parts_that_they_name() {
    let text = format!(
        "{HEAD}[[task]]\nid = \"one\"\ntitle = \"T\"\nskill = \"turns\"\nlevels = [4]\n\
         mechanism = [\"gear A 12 drives gear B 36\", \"A turns 6\"]\n\
         steps = [\"Turn {{A}}.\"]\nexplain = \"Why?\"\n[[task.predict]]\nask = \"turns of B\"\n"
    );
    let tasks = read(&text, "t.toml").expect("sound");
    assert_eq!(tasks.tasks[0].steps, ["Turn gear A with 12 teeth."]);
    assert_eq!(
        tasks.tasks[0].predictions[0].question,
        "How many turns does gear B make?"
    );
}
