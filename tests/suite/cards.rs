//! Task cards from outside.

use crate::program::Program;
use std::fs;

#[test]
fn cards_are_made_for_every_level() {
    for level in 1..=8 {
        let level = level.to_string();
        let program = Program::new().arguments(["cards", "--level", &level, "--out", "out"]);
        let run = program.run().succeeded();
        assert!(
            run.stdout
                .contains("risk assessment and local rules come first")
        );
        for name in ["cards.pdf", "cards-for-the-teacher.pdf"] {
            let bytes = fs::read(program.path("out").join(name)).expect(name);
            let document = lopdf::Document::load_mem(&bytes).expect("a PDF");
            assert!(!document.get_pages().is_empty(), "level {level}: {name}");
        }
    }
}

#[test]
fn a_skill_without_a_task_is_told_with_those_that_have_one() {
    let line = "cards --level 1 --skill speed --out out";
    let run = Program::new()
        .arguments(line.split(' '))
        .run()
        .ended_with(1);
    assert!(
        run.stderr.contains("level 1: no task suits"),
        "{}",
        run.stderr
    );
    assert!(run.stderr.contains("turns, will-it-work"), "{}", run.stderr);
}

#[test]
fn tasks_written_out_can_be_given_back() {
    let program = Program::new().arguments(["cards", "--show-tasks"]);
    let tasks = program.run().succeeded().stdout;
    let program = program.anew().file("tasks.toml", tasks);
    let line = "cards --level 3-4 --out usual";
    let program = program.arguments(line.split(' '));
    program.run().succeeded();
    let line = "cards --level 3-4 --tasks tasks.toml --out given";
    let program = program.anew().arguments(line.split(' '));
    program.run().succeeded();
    for name in ["cards.pdf", "cards-for-the-teacher.pdf"] {
        let read = |out: &str| fs::read(program.path(out).join(name)).expect(name);
        assert!(read("usual") == read("given"), "{name}");
    }
}

#[test]
fn every_fault_of_the_tasks_is_told_at_once() {
    let text = "format = 1\n[tasks]\nid = \"T\"\n[[task]]\ntitel = \"x\"\n";
    let program = Program::new()
        .file("tasks.toml", text)
        .arguments("cards --level 3 --tasks tasks.toml --out out".split(' '));
    let run = program.run().ended_with(1);
    for told in [
        "tasks.toml:3:6: `id`: found \"T\"",
        "tasks.toml:5:1: unknown key `titel`",
        "did you mean `title`?",
        "`steps` is missing",
        "`predict` is missing",
    ] {
        assert!(run.stderr.contains(told), "{told}: {}", run.stderr);
    }
    assert!(!program.path("out").exists());
}
