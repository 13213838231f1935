use super::*;
use clap::CommandFactory;

fn typed(line: &str) -> Result<CommandLine, clap::Error> {
    CommandLine::try_parse_from(line.split(' '))
}

#[test]
fn the_command_line_is_well_made() {
    CommandLine::command().debug_assert();
}

#[test]
fn every_command_of_the_contract_is_taken() {
    for line in [
        "toothmark set --bank a.toml b.toml --roll r.csv --level 3-5 --skill turns ratio --questions all --seed s --versions each --title T --year 4 --date 2028-02-29 --keep-until 2031-07-04 --out d",
        "toothmark set --bank a.toml --bank b.toml --roll r.csv --level 3 --questions 20 --out d",
        "toothmark set --bank a.toml --roll r.csv --level 3 --questions 20 --after a b/marked.json --out d",
        "toothmark mark a.xlsx --homework h.json --policy p.toml --out d --decided b.xlsx c.ods",
        "toothmark mark a.xlsx --second-look 0.1 --seed s --second-marks b.ods",
        "toothmark mark a.xlsx --second-look 12.5%",
        "toothmark mark a.xlsx --second-look 1/3",
        "toothmark mark a.xlsx --second-look 1",
        "toothmark mark --show-policy",
        "toothmark mark --show-policy --policy p.toml",
        "toothmark review a b --out d --policy p.toml --quiet",
        "toothmark feedback m.json --homework h.json --words w.toml --marks --seed s --out d",
        "toothmark feedback m.json",
        "toothmark feedback --show-words --words w.toml",
        "toothmark cards --level 3-5 --skill turns ratio --tasks t.toml --out d",
        "toothmark cards --show-tasks",
        "toothmark review a --out d --calendar c.toml --bands b.toml --curriculum x.toml y.toml",
        "toothmark review a --out d --for-class 5O",
        "toothmark review a --out d --parquet",
        "toothmark --quiet bank check a.toml b.toml",
        "toothmark bank list a.toml",
        "toothmark bank show a.toml",
        "toothmark solve gear A 12",
        "toothmark show week-12 --out screen.html",
        "toothmark show homework.json --pupil P07 --out screen.html",
        "toothmark forget 5R104 week-12 week-13 --name Zoe --delete-too --dry-run",
        "toothmark tour",
        "toothmark manual --out m",
    ] {
        assert!(typed(line).is_ok(), "{line}: {:?}", typed(line));
    }
}

#[test]
fn what_cannot_be_meant_is_a_usage_error() {
    for (line, told) in [
        ("toothmark sett", "'set'"),
        ("toothmark mark", "<ANSWERS>"),
        ("toothmark feedback", "<MARKED>"),
        (
            "toothmark feedback m.json --show-words",
            "cannot be used with",
        ),
        ("toothmark cards --out d", "--level"),
        ("toothmark cards --level 3", "--out"),
        ("toothmark mark a.xlsx --show-policy", "cannot be used with"),
        ("toothmark set --bnk a.toml", "'--bank'"),
        (
            "toothmark set --bank a --roll r --level 9 --questions 1 --out d",
            "wanted a level from 1 to 8",
        ),
        (
            "toothmark set --bank a --roll r --level 5-3 --questions 1 --out d",
            "such as 3-5",
        ),
        (
            "toothmark set --bank a --roll r --level 3 --questions none --out d",
            "wanted a number from 1 to 100, or all",
        ),
        (
            "toothmark set --bank a --roll r --level 3 --questions 1 --skill turn --out d",
            "'turns'",
        ),
        (
            "toothmark set --bank a --roll r --level 3 --questions 1 --date 2027-02-29 --out d",
            "has 28 days",
        ),
        ("toothmark show week-12", "--out"),
        (
            "toothmark show week-12 --sheet A --pupil P07 --out s.html",
            "cannot be used with",
        ),
        (
            "toothmark review a --out d --for-class 5O --bands b.toml",
            "cannot be used with",
        ),
        (
            "toothmark mark a.xlsx --second-look 10",
            "such as 0.1 or 10%",
        ),
        (
            "toothmark mark a.xlsx --second-look 0%",
            "such as 0.1 or 10%",
        ),
        (
            "toothmark mark a.xlsx --second-look some",
            "such as 0.1 or 10%",
        ),
        (
            "toothmark mark a.xlsx --second-look 0.0000001",
            "six decimal places",
        ),
        ("toothmark mark a.xlsx --seed s", "--second-look"),
        (
            "toothmark mark a.xlsx --second-look 0.1 --seed :s",
            "beginning with a letter or digit",
        ),
    ] {
        let error = typed(line).expect_err(line);
        assert_eq!(error.exit_code(), 2, "{line}");
        assert!(error.to_string().contains(told), "{line}: {error}");
    }
}
