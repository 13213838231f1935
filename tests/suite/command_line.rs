//! The command line as a whole: help, exit codes, where messages go.

use crate::program;
use toothmark::marking::policy;

#[test]
fn a_wrong_command_line_ends_with_two() {
    for arguments in [&["sett"][..], &["set", "--bnk", "x"], &["mark"], &[]] {
        let run = program::Program::new().arguments(arguments).run();
        let run = run.ended_with(2);
        assert_eq!(run.stdout, "", "{arguments:?}");
        assert!(!run.stderr.is_empty(), "{arguments:?}");
    }
}

#[test]
fn a_slip_of_the_keyboard_gets_a_suggestion() {
    let run = program::Program::new().argument("sovle").run();
    assert!(run.stderr.contains("'solve'"), "{}", run.stderr);
}

#[test]
fn every_command_explains_itself_with_an_example() {
    for arguments in [
        &["set"][..],
        &["mark"],
        &["review"],
        &["feedback"],
        &["cards"],
        &["bank", "check"],
        &["bank", "list"],
        &["bank", "show"],
        &["solve"],
        &["tour"],
    ] {
        let run = program::Program::new()
            .arguments(arguments)
            .argument("--help")
            .run()
            .ended_with(0);
        assert!(run.stdout.contains("Example"), "{arguments:?}");
        assert!(run.stdout.contains("toothmark"), "{arguments:?}");
    }
}

#[test]
fn the_policy_is_written_out_changed_and_used() {
    let program = program::Program::new().arguments(["mark", "--show-policy"]);
    let run = program.run().succeeded();
    assert_eq!(run.stdout, policy::write(&policy::Policy::default()));
    let program = program
        .anew()
        .file(
            "ours.toml",
            "name = \"Ashwhistle School\"\nfollow_through = false\n",
        )
        .arguments(["mark", "--show-policy", "--policy", "ours.toml"]);
    let run = program.run().succeeded();
    assert!(
        run.stdout
            .contains("follow_through = false  # usually true\n"),
        "{}",
        run.stdout
    );
    let program = program.anew().file("ours.toml", run.stdout).arguments([
        "mark",
        "--show-policy",
        "--policy",
        "ours.toml",
    ]);
    let again = program.run().succeeded();
    assert!(
        again.stdout.contains("name = \"Ashwhistle School\""),
        "{}",
        again.stdout
    );
    assert!(
        again
            .stdout
            .contains("follow_through = false  # usually true\n")
    );
    program
        .anew()
        .file("bad.toml", "folow_through = false\nreversed_earns = 12\n")
        .arguments(["mark", "--show-policy", "--policy", "bad.toml"])
        .run()
        .ended_with(1);
}
