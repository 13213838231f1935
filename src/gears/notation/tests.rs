//! Cases of the notation: lines, what they mean, what is wrong with them.

use super::*;

/// Every kind of line, written as [`write`] writes it.
const WRITTEN: [&[&str]; 12] = [
    &["gear A 12 drives gear B 36", "A turns 9 clockwise"],
    &[
        "gear A 12 drives gear B 20 drives gear C 36",
        "C turns clockwise",
    ],
    &["gear P 12 drives ring R 60", "P and R 48 mm apart"],
    &[
        "bevel A 20 drives bevel B 40",
        "A runs at 120 rpm",
        "for 5 minutes",
    ],
    &["worm W 1 start drives gear B 40 drives worm V 2 starts"],
    &["gear P 12 drives rack R", "rack S above drives gear Q 20"],
    &[
        "sprocket A 44 drives sprocket B 11 by chain",
        "for 1 minute",
    ],
    &[
        "pulley A 60 mm drives pulley B 30 mm by belt",
        "B drives pulley C 2.5 mm by crossed belt",
    ],
    &[
        "handle H 300 mm, gear A 10 on one axle",
        "A drives gear B 60",
        "B, drum D 80 mm on one axle",
        "force 20 N at H",
        "efficiency 9/10",
    ],
    &[
        "gear S 20 drives gear P 20 drives ring R 60",
        "P rides on carrier C",
        "R held still",
        "C turns 1/3 anticlockwise",
    ],
    &[
        "motor M, gear A 8 on one axle",
        "A drives gear B ?",
        "A meshes with gear E 8",
        "B, gear C 10, dynamo D on one axle",
        "E meshes with C",
        "tooth size 2 mm",
        "turning force 50 N cm on M",
        "A, B taken out",
    ],
    &[
        "rack R",
        "handle H",
        "roller W 660 mm",
        "gear R2 9",
        "tooth size 1.5 mm on R",
        "tooth size 2 mm on R2",
        "R moves 120 mm left",
        "W moves 660 pi mm",
    ],
];

#[test]
fn every_kind_of_line_is_read_and_written_back() {
    for lines in WRITTEN {
        let mechanism = read(lines).unwrap_or_else(|faults| panic!("{lines:?}: {faults:#?}"));
        let written = write(&mechanism);
        let texts: Vec<&str> = written.iter().map(String::as_str).collect();
        assert_eq!(read(&texts), Ok(mechanism), "{lines:?}");
        if !lines[0].starts_with("rack R") && !lines[0].starts_with("motor") {
            assert_eq!(written, lines);
        }
    }
}

#[test]
fn lines_may_be_said_in_other_ways() {
    for (said, meant) in [
        (
            "Gear A 12 teeth DRIVES gear B 36 tooth",
            "gear A 12 drives gear B 36",
        ),
        ("handle H 30 cm", "handle H 300 mm"),
        ("pulley A 0.5 m", "pulley A 500 mm"),
        ("roller W 66cm", "roller W 660 mm"),
        (
            "worm W 2 starts drives gear B ?",
            "worm W 2 start drives gear B ? teeth",
        ),
        (
            "sprocket A 44 drives sprocket B 11",
            "sprocket A 44 drives sprocket B 11 by chain",
        ),
        (
            "pulley A 5 mm drives pulley B 9 mm",
            "pulley A 5 mm drives pulley B 9 mm by open belt",
        ),
        ("rack R below", "rack R"),
    ] {
        assert_eq!(read(&[said]), read(&[meant]), "{said}");
        assert!(read(&[said]).is_ok(), "{said}: {:?}", read(&[said]));
    }
    let gear = "gear A 12";
    for (said, meant) in [
        ("A turns 2 1/2", "A turns 2.5"),
        ("A turns 5/2 times clockwise", "A turns 2.5 clockwise"),
        ("A runs at 60 turns a minute", "A runs at 60 rpm"),
        ("for 90 seconds", "for 1.5 minutes"),
        ("efficiency 90 %", "efficiency 9/10"),
        ("efficiency 0.9", "efficiency 90 percent"),
        ("turning force 1/2 N m on A", "turning force 50 Ncm on A"),
        ("gear A turns 3", "A turns 3"),
    ] {
        assert_eq!(read(&[gear, said]), read(&[gear, meant]), "{said}");
        assert!(
            read(&[gear, said]).is_ok(),
            "{said}: {:?}",
            read(&[gear, said])
        );
    }
}

#[test]
fn parts_are_numbered_by_first_mention_and_bodies_by_first_part() {
    let train = read(&[
        "D turns 1",
        "gear A 12 drives gear B 36",
        "gear C 10, B on one axle",
        "C drives gear D 40",
    ])
    .expect("well formed");
    let parts: Vec<(&str, u16)> = train
        .parts
        .iter()
        .map(|part| (part.name.as_str(), part.body.0))
        .collect();
    assert_eq!(parts, [("D", 0), ("A", 1), ("B", 2), ("C", 2)]);
    assert_eq!(train.body_count, 3);
}

/// Faulty lines, and what is said: line, columns, what was found, hint.
const FAULTS: [(&[&str], &[&str]); 12] = [
    (
        &["gaer A 12 drives gear B 36"],
        &[
            "1:1-5 found \"gaer\", wanted a part, such as \"gear A 12\", or what is given, such as \"for 5 minutes\" | did you mean \"gear\"?",
        ],
    ),
    (
        &["gear A 12 drvies gear B 36"],
        &[
            "1:11-17 found \"drvies\", wanted what the part does: \"drives\", \"meshes with\", \"turns\", \"runs at\", \"moves\", \"held still\", \"rides on\", \"on one axle\", \"taken out\", \"and\" | did you mean \"drives\"?",
        ],
    ),
    (
        &["gear a 12"],
        &["1:6-7 found \"a\", wanted the name of the gear, such as A | write it as a capital: A"],
    ),
    (
        &["gear A 12.5", "gear B 100001", "gear A12345 9"],
        &[
            "1:8-12 found \"12.5\", wanted a number of teeth | use a whole number up to 100000",
            "2:8-14 found \"100001\", wanted a number of teeth | use a whole number up to 100000",
            "3:6-12 found \"A12345\", wanted the name of the gear, such as A | a name is one capital letter, with up to three digits after it, such as A or R2",
        ],
    ),
    (
        &["gear A drives gear B 36", "X turns 3"],
        &[
            "1:1-7 found gear A without its number of teeth | write gear A 12; ? where it is to be found",
            "2:1-2 found X, which no line says the kind of | say once what it is, such as gear X 12; the parts are A, B",
        ],
    ),
    (
        &["gear A 12 drives gear B 36", "gear A 14 drives gear C 9"],
        &[
            "2:1-10 found \"gear A 14\", but line 1 says \"gear A 12\" | give each part a name of its own; once declared, its name is enough",
        ],
    ),
    (
        &["gear A 12 drives A"],
        &["1:18-19 found A twice, wanted two parts | name the other part"],
    ),
    (
        &["pulley A 60 drives pulley B 30 mm"],
        &["1:13-19 found \"drives\", wanted a unit: mm, cm or m | "],
    ),
    (
        &["gear A 12", "A turns -3", "A turns", "A runs at 30"],
        &[
            "2:9-10 found \"-\", wanted how often or which way, such as \"9\" or \"clockwise\" | ",
            "3:8-8 the line ends, wanted how often or which way, such as \"9\" or \"clockwise\" | ",
            "4:13-13 the line ends, wanted the unit \"rpm\" (turns a minute) | ",
        ],
    ),
    (
        &[
            "gear A 12",
            "A turns 3 clokwise",
            "rack R",
            "R turns 2",
            "A moves 5 mm",
            "R moves 5 mm clockwise",
        ],
        &[
            "2:11-19 found \"clokwise\", wanted nothing more after the number of turns, or \"clockwise\", or \"anticlockwise\" | did you mean \"clockwise\"?",
            "4:1-2 found rack R turning | a rack slides: write R moves 120 mm left",
            "5:1-2 found gear A moving along | a gear turns: write A turns 9 clockwise",
            "6:9-23 found a turning direction for rack R, wanted \"left\" or \"right\" | ",
        ],
    ),
    (
        &[
            "gear A 12 drives sprocket B 9 by chain",
            "A rides on B",
            "force 2 N at A",
        ],
        &[
            "1:1-10 found gear A, wanted a sprocket: a chain joins sprockets | ",
            "2:12-13 found sprocket B, wanted a carrier | only a carrier has an arm that other gears ride on, such as carrier C",
            "3:14-15 found a force at gear A, wanted a handle, a rack, a drum or a roller | write turning force 50 N cm on A",
        ],
    ),
    (
        &[
            "efficiency 90",
            "for 5 minutes",
            "for 6 minutes",
            "for 5 minutes",
            "gear A 9",
            "A 12 drives gear B 9",
        ],
        &[
            "1:12-14 found an efficiency of 90, wanted more than 0 and at most 1 | write a share such as 9/10, or percent with its sign, such as 90 %",
            "3:5-14 found the time for a second time, and not the same | leave one of the two lines out",
            "6:3-5 found \"12\", wanted what the part does: \"drives\", \"meshes with\", \"turns\", \"runs at\", \"moves\", \"held still\", \"rides on\", \"on one axle\", \"taken out\", \"and\" | say what A is before its size, such as gear A 12",
        ],
    ),
];

#[test]
fn faults_quote_what_was_found_and_say_what_to_do() {
    for (lines, faults) in FAULTS {
        let found: Vec<String> = read(lines)
            .expect_err("faulty")
            .into_iter()
            .map(|fault| {
                let (start, end) = (fault.span.start + 1, fault.span.end + 1);
                format!(
                    "{}:{start}-{end} {} | {}",
                    fault.line + 1,
                    fault.what,
                    fault.hint
                )
            })
            .collect();
        assert_eq!(found, faults, "{lines:?}");
    }
}

#[test]
fn a_faulty_line_does_not_make_its_parts_unknown_elsewhere() {
    let faults =
        read(&["gear A 12 drvies gear B 36", "B turns 3", "Z turns 4"]).expect_err("faulty");
    let lines: Vec<usize> = faults.iter().map(|fault| fault.line).collect();
    assert_eq!(lines, [0, 2]);
}

#[test]
fn sixty_parts_are_enough() {
    let lines: Vec<String> = (0..61).map(|number| format!("gear A{number} 9")).collect();
    let texts: Vec<&str> = lines.iter().map(String::as_str).collect();
    assert!(read(&texts[..60]).is_ok());
    let faults = read(&texts).expect_err("one too many");
    assert_eq!(faults.len(), 1);
    assert_eq!(faults[0].line, 60);
}

#[test]
fn every_question_is_read_and_written_back() {
    let mechanism =
        read(&["gear A ? drives gear B ?", "rack R", "worm W 1 start"]).expect("well formed");
    for line in [
        "turns of B",
        "speed of B",
        "direction of B",
        "same way A, B",
        "faster of A, B",
        "stronger of A, B",
        "ratio of turns A : B",
        "ratio of teeth A : B",
        "teeth of B",
        "starts of W",
        "force at R",
        "turning force of B",
        "distance of R",
        "centre distance of A, B",
        "pitch diameter of A",
        "tip diameter of A",
        "root diameter of A",
        "tooth size of A",
        "will it turn",
        "name of R",
        "job of B",
        "stages for 27",
        "meet again A, B",
        "choose A, B from 8, 16, 24, 24",
        "why direction of B",
        "why same way A, B",
        "why faster of A, B",
        "why stronger of A, B",
        "why will it turn",
    ] {
        assert!(is_ask(line), "{line}");
        let asked = read_ask(line, &mechanism).unwrap_or_else(|fault| panic!("{line}: {fault:?}"));
        assert_eq!(write_ask(&asked, &mechanism), line);
    }
    for line in [
        "turning force 5 N cm on A",
        "tooth size 2 mm",
        "force 5 N at H",
        "A turns 9",
    ] {
        assert!(!is_ask(line), "{line}");
    }
    for (said, meant) in [
        ("Turns of gear B?", "turns of B"),
        ("ratio of turns A to B", "ratio of turns A : B"),
        ("same way A and B", "same way A, B"),
    ] {
        let asked = read_ask(said, &mechanism).expect("well formed");
        assert_eq!(write_ask(&asked, &mechanism), meant);
    }
}

#[test]
fn faulty_questions_are_told() {
    let mechanism = read(&["gear A 12 drives gear B 36"]).expect("well formed");
    for (line, told) in [
        (
            "turn of B",
            "found \"turn\", wanted a question, such as \"turns of B\" | did you mean \"turns of\"?",
        ),
        (
            "turns of C",
            "found C, which is no part of the mechanism | the parts are A, B",
        ),
        ("turns of rack B", "found rack B, but B is a gear | "),
        (
            "ratio of turns A, B",
            "found \",\", wanted \":\" and a second part | ",
        ),
        (
            "faster of A, A",
            "found A twice, wanted two parts | name the other part",
        ),
        (
            "why turns of B",
            "found \"why turns of\", and there is no explanation of that | after why comes one of: \
             direction of, same way, faster of, stronger of, will it turn",
        ),
        (
            "turns of B now",
            "found \"now\", wanted nothing more after the question | ",
        ),
        (
            "choose A, A from 8",
            "found A twice, wanted each part once | name the other part",
        ),
        (
            "choose A from",
            "the line ends, wanted a number of teeth in the box | ",
        ),
    ] {
        let fault = read_ask(line, &mechanism).expect_err(line);
        assert_eq!(format!("{} | {}", fault.what, fault.hint), told, "{line}");
    }
}
