use toothmark::bank;
use toothmark::item::trial;
#[test]
fn tmp() {
    for f in ["gears-5-7", "gears-7-11", "gears-11-14"] {
        let path = format!("question-banks/{f}.toml");
        let text = std::fs::read_to_string(&path).expect("file");
        match bank::read(&text, &path) {
            Ok(b) => for t in &b.templates {
                let trials = trial::out(t);
                for p in trial::problems(t, &trials) { println!("PROBLEM {p}"); }
                for p in trial::notices(t, &trials) { println!("NOTICE {p}"); }
                for r in &trials { println!("{f}/{} L{} versions {} equal {} tried {} whole {} coll {:?}", t.id, r.level, r.versions, r.equally_hard, r.tried, r.is_whole, r.collisions); }
            },
            Err(p) => for p in p { println!("{p}\n"); },
        }
    }
}
