//! The solver against an independent reference: the same random mechanisms as linear
//! equations, one a joint, solved in floating point by a general numerical crate.
//!
//! The equations are written down here while the mechanism is made, from the teeth and
//! senses alone; nothing of the solver's own walk is used.

use nalgebra::{DMatrix, DVector};
use toothmark::gears::fault;
use toothmark::gears::mechanism;
use toothmark::gears::notation;
use toothmark::gears::solve;
use toothmark::seed;

/// Millimetres of tooth size, the same for all parts.
const TOOTH_SIZE: f64 = 2.0;

/// One equation: factors times speeds add up to the sum.
struct Row {
    terms: Vec<(usize, f64)>,
    sum: f64,
}

/// What a gear that others can mesh with is.
struct Gear {
    name: String,
    teeth: u32,
    body: usize,
}

/// A random mechanism with its equations.
struct Model {
    stream: seed::Stream,
    lines: Vec<String>,
    names: usize,
    gears: Vec<Gear>,
    /// One part's name for each body.
    bodies: Vec<String>,
    /// Bodies whose senses follow from each other carry the same mark.
    seen: Vec<usize>,
    /// Bodies that nothing more may be fixed to: bars, planets, what is held still.
    closed: Vec<bool>,
    /// Bars slide.
    slides: Vec<bool>,
    rows: Vec<Row>,
    has_planets: bool,
    has_second_drive: bool,
}

impl Model {
    fn new(number: u64) -> Self {
        let mut model = Self {
            stream: seed::Stream::named(&["linear"], number),
            lines: Vec::new(),
            names: 0,
            gears: Vec::new(),
            bodies: Vec::new(),
            seen: Vec::new(),
            closed: Vec::new(),
            slides: Vec::new(),
            rows: Vec::new(),
            has_planets: false,
            has_second_drive: false,
        };
        let (name, teeth) = (model.name(), model.teeth());
        let body = model.body(&name, 0);
        model.gears.push(Gear { name, teeth, body });
        let first = model.mesh_line(0);
        model.lines.push(first);
        let joints = 1 + model.stream.index(11);
        for _ in 0..joints {
            model.grow();
        }
        model
    }

    fn name(&mut self) -> String {
        self.names += 1;
        format!("G{}", self.names)
    }

    fn teeth(&mut self) -> u32 {
        let below = u32::try_from(self.stream.below(70)).expect("small");
        6 + below
    }

    fn body(&mut self, name: &str, seen: usize) -> usize {
        self.bodies.push(name.to_owned());
        self.seen.push(seen);
        self.closed.push(false);
        self.slides.push(false);
        self.bodies.len() - 1
    }

    /// A body that something may be fixed to.
    fn open_body(&mut self) -> usize {
        let open: Vec<usize> = (0..self.bodies.len())
            .filter(|&body| !self.closed[body])
            .collect();
        *self.stream.choose(&open).expect("the first body is open")
    }

    /// A gear that others may mesh with.
    fn any_gear(&mut self) -> usize {
        let open: Vec<usize> = (0..self.gears.len())
            .filter(|&gear| !self.closed[self.gears[gear].body])
            .collect();
        *self.stream.choose(&open).expect("the first gear is open")
    }

    /// Adds a gear in mesh with another; returns the line.
    fn mesh_line(&mut self, with: usize) -> String {
        let (name, teeth) = (self.name(), self.teeth());
        let (body, other_teeth, other) = (
            self.gears[with].body,
            self.gears[with].teeth,
            self.gears[with].name.clone(),
        );
        let new = self.body(&name, self.seen[body]);
        self.relate((body, other_teeth.into()), (new, teeth.into()), 1.0);
        self.gears.push(Gear {
            name: name.clone(),
            teeth,
            body: new,
        });
        let other = if self.lines.is_empty() {
            format!("gear {other} {other_teeth}")
        } else {
            other
        };
        format!("{other} drives gear {name} {teeth}")
    }

    /// first size × first speed + sign × second size × second speed = 0.
    fn relate(&mut self, first: (usize, f64), second: (usize, f64), sign: f64) {
        self.rows.push(Row {
            terms: vec![(first.0, first.1), (second.0, sign * second.1)],
            sum: 0.0,
        });
    }

    fn grow(&mut self) {
        match self.stream.below(20) {
            0..=5 => {
                let with = self.any_gear();
                let line = self.mesh_line(with);
                self.lines.push(line);
            }
            6..=9 => self.add_axle(),
            10 => self.add_ring(),
            11 | 12 => self.add_pair("sprocket", "", " by chain", -1.0),
            13 => self.add_pair("pulley", " mm", " by belt", -1.0),
            14 => self.add_pair("pulley", " mm", " by crossed belt", 1.0),
            15 => self.add_pair("bevel", "", "", 1.0),
            16 => self.add_worm(),
            17 => self.add_rack(),
            18 => {
                if self.has_planets {
                    self.add_axle();
                } else {
                    self.close_loop();
                }
            }
            _ => self.add_planets(),
        }
    }

    /// A new gear on an old axle, with a gear in mesh.
    fn add_axle(&mut self) {
        let body = self.open_body();
        let (name, teeth) = (self.name(), self.teeth());
        let on = self.bodies[body].clone();
        self.lines
            .push(format!("{on}, gear {name} {teeth} on one axle"));
        self.gears.push(Gear { name, teeth, body });
        let line = self.mesh_line(self.gears.len() - 1);
        self.lines.push(line);
    }

    fn add_ring(&mut self) {
        let with = self.any_gear();
        let name = self.name();
        let (body, teeth, other) = (
            self.gears[with].body,
            self.gears[with].teeth,
            self.gears[with].name.clone(),
        );
        let ring = teeth + self.teeth();
        let new = self.body(&name, self.seen[body]);
        self.relate((body, teeth.into()), (new, ring.into()), -1.0);
        self.lines
            .push(format!("{other} drives ring {name} {ring}"));
    }

    /// A pair of its own kind: the first fixed to an old axle.
    fn add_pair(&mut self, kind: &str, unit: &str, link: &str, sign: f64) {
        let body = self.open_body();
        let on = self.bodies[body].clone();
        let (first, second) = (self.name(), self.name());
        let (one, other) = (self.teeth(), self.teeth());
        let new = self.body(&second, self.seen[body]);
        self.lines
            .push(format!("{on}, {kind} {first} {one}{unit} on one axle"));
        self.lines.push(format!(
            "{first} drives {kind} {second} {other}{unit}{link}"
        ));
        self.relate((body, one.into()), (new, other.into()), sign);
    }

    fn add_worm(&mut self) {
        let body = self.open_body();
        let on = self.bodies[body].clone();
        let (worm, wheel) = (self.name(), self.name());
        let starts = 1 + u32::try_from(self.stream.below(4)).expect("small");
        let teeth = self.teeth();
        // A new mark: the sense is not known past a worm.
        let new = self.body(&wheel, self.bodies.len());
        let unit = if starts == 1 { "start" } else { "starts" };
        self.lines
            .push(format!("{on}, worm {worm} {starts} {unit} on one axle"));
        self.lines
            .push(format!("{worm} drives gear {wheel} {teeth}"));
        self.relate((body, starts.into()), (new, teeth.into()), -1.0);
        self.gears.push(Gear {
            name: wheel,
            teeth,
            body: new,
        });
    }

    fn add_rack(&mut self) {
        let with = self.any_gear();
        let name = self.name();
        let (body, teeth, other) = (
            self.gears[with].body,
            self.gears[with].teeth,
            self.gears[with].name.clone(),
        );
        let new = self.body(&name, self.seen[body]);
        let above = self.stream.below(2) == 1;
        let side = if above { " above" } else { "" };
        self.lines.push(format!("{other} drives rack {name}{side}"));
        // Clockwise pushes a rack below to the left, which is the negative way.
        let sign = if above { -1.0 } else { 1.0 };
        let circle = std::f64::consts::PI * TOOTH_SIZE * f64::from(teeth);
        self.relate((body, circle), (new, 1.0), sign);
        self.closed[new] = true;
        self.slides[new] = true;
    }

    /// A mesh between two gears that are there, or a gear between two neighbours of
    /// one gear, which always fits.
    fn close_loop(&mut self) {
        let (one, other) = (self.any_gear(), self.any_gear());
        let (first, second) = (&self.gears[one], &self.gears[other]);
        let (body, far) = (first.body, second.body);
        if body == far || self.seen[body] != self.seen[far] {
            return;
        }
        let mesh = format!("{} meshes with {}", first.name, second.name);
        let turned = format!("{} meshes with {}", second.name, first.name);
        let sizes = (f64::from(first.teeth), f64::from(second.teeth));
        let already = self.lines.iter().any(|line| {
            line.contains(&format!("{} drives gear {} ", first.name, second.name))
                || line.contains(&format!("{} drives gear {} ", second.name, first.name))
                || *line == mesh
                || *line == turned
        });
        if already || self.lines.len() < 2 {
            return;
        }
        if self.stream.below(3) == 0 {
            self.lines.push(mesh);
            self.relate((body, sizes.0), (far, sizes.1), 1.0);
        } else {
            // A gear in mesh with one neighbour, closed over the other later.
            let line = self.mesh_line(one);
            self.lines.push(line);
            let third = self.gears.len() - 1;
            let line = self.mesh_line(one);
            self.lines.push(line);
            let fourth = self.gears.len() - 1;
            let line = self.mesh_line(third);
            self.lines.push(line);
            let last = self.gears.len() - 1;
            let (last, fourth) = (&self.gears[last], &self.gears[fourth]);
            self.lines
                .push(format!("{} meshes with {}", last.name, fourth.name));
            let ends = (
                (last.body, f64::from(last.teeth)),
                (fourth.body, f64::from(fourth.teeth)),
            );
            self.relate(ends.0, ends.1, 1.0);
        }
    }

    /// A planetary set, its sun on an old axle; ring or carrier is held, or driven.
    fn add_planets(&mut self) {
        if self.names > 30 {
            return;
        }
        let body = self.open_body();
        let on = self.bodies[body].clone();
        let (sun, planet, ring, carrier) = (self.name(), self.name(), self.name(), self.name());
        let (sun_teeth, planet_teeth) = (self.teeth(), self.teeth());
        let ring_teeth = sun_teeth + 2 * planet_teeth;
        let seen = self.seen[body];
        let planet_body = self.body(&planet, seen);
        let ring_body = self.body(&ring, seen);
        let carrier_body = self.body(&carrier, seen);
        self.lines.extend([
            format!("{on}, gear {sun} {sun_teeth} on one axle"),
            format!("{sun} drives gear {planet} {planet_teeth}"),
            format!("{planet} drives ring {ring} {ring_teeth}"),
            format!("{planet} rides on carrier {carrier}"),
        ]);
        let (s, p, r) = (
            f64::from(sun_teeth),
            f64::from(planet_teeth),
            f64::from(ring_teeth),
        );
        self.rows.push(Row {
            terms: vec![(body, s), (planet_body, p), (carrier_body, -s - p)],
            sum: 0.0,
        });
        self.rows.push(Row {
            terms: vec![(planet_body, p), (ring_body, -r), (carrier_body, r - p)],
            sum: 0.0,
        });
        self.closed[planet_body] = true;
        let second = if self.stream.below(2) == 0 {
            (ring, ring_body)
        } else {
            (carrier, carrier_body)
        };
        self.closed[second.1] = true;
        let can_drive = !self.has_planets && self.seen[0] == seen;
        if can_drive && self.stream.below(3) == 0 {
            let (turns, way, sign) = self.motion();
            self.lines.push(format!("{} turns {turns} {way}", second.0));
            self.rows.push(Row {
                terms: vec![(second.1, 1.0)],
                sum: sign * f64::from(turns),
            });
            self.has_second_drive = true;
        } else {
            self.lines.push(format!("{} held still", second.0));
            self.rows.push(Row {
                terms: vec![(second.1, 1.0)],
                sum: 0.0,
            });
        }
        self.has_planets = true;
    }

    fn motion(&mut self) -> (u32, &'static str, f64) {
        let turns = 1 + u32::try_from(self.stream.below(40)).expect("small");
        if self.stream.below(2) == 0 {
            (turns, "clockwise", 1.0)
        } else {
            (turns, "anticlockwise", -1.0)
        }
    }

    /// Gives the drive its motion; returns its body.
    fn drive(&mut self) -> usize {
        let driver = if self.has_second_drive {
            0
        } else {
            let free: Vec<usize> = (0..self.bodies.len())
                .filter(|&body| {
                    self.slides[body]
                        || !self.closed[body]
                        || !self
                            .lines
                            .contains(&format!("{} held still", self.bodies[body]))
                })
                .collect();
            *self.stream.choose(&free).expect("the first body is free")
        };
        let (turns, way, sign) = self.motion();
        let name = self.bodies[driver].clone();
        if self.slides[driver] {
            let way = if sign > 0.0 { "right" } else { "left" };
            self.lines.push(format!("{name} moves {turns} mm {way}"));
        } else {
            self.lines.push(format!("{name} turns {turns} {way}"));
        }
        if self.slides.contains(&true) {
            self.lines.push("tooth size 2 mm".to_owned());
        }
        self.rows.push(Row {
            terms: vec![(driver, 1.0)],
            sum: sign * f64::from(turns),
        });
        driver
    }

    /// The equations as a matrix, columns times `scale`, each row's largest factor 1.
    fn matrix(&self, rows: &[&Row], scale: &[f64]) -> (DMatrix<f64>, DVector<f64>) {
        let mut factors = DMatrix::zeros(rows.len(), self.bodies.len());
        let mut sums = DVector::zeros(rows.len());
        for (index, row) in rows.iter().enumerate() {
            for &(body, factor) in &row.terms {
                factors[(index, body)] += factor * scale[body];
            }
            let largest = factors.row(index).amax();
            if largest > 0.0 {
                for body in 0..self.bodies.len() {
                    factors[(index, body)] /= largest;
                }
                sums[index] = row.sum / largest;
            }
        }
        (factors, sums)
    }

    /// How many independent motions the rows leave.
    fn freedom(&self, rows: &[&Row]) -> usize {
        let ones = vec![1.0; self.bodies.len()];
        let (factors, _) = self.matrix(rows, &ones);
        let values = factors.svd(false, false).singular_values;
        let least = values.max() * 1e-11;
        let rank = values.iter().filter(|&&value| value > least).count();
        self.bodies.len() - rank
    }

    /// The speeds that satisfy every equation; `None` if none do, or not only one.
    fn speeds(&self) -> Option<Vec<f64>> {
        let rows: Vec<&Row> = self.rows.iter().collect();
        if self.freedom(&rows) != 0 {
            return None;
        }
        let mut scale = vec![1.0; self.bodies.len()];
        // The second round counts each body in its own size, so that slow bodies are
        // as exact as fast ones.
        for _ in 0..3 {
            let (factors, sums) = self.matrix(&rows, &scale);
            let found = factors.clone().svd(true, true).solve(&sums, 1e-14).ok()?;
            let error = (&factors * &found - &sums).amax();
            if error > 1e-9 * (1.0 + sums.amax()) {
                return None;
            }
            for (scale, found) in scale.iter_mut().zip(found.iter()) {
                *scale *= found;
            }
        }
        Some(scale)
    }
}

/// What became of one mechanism.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord, Clone, Copy)]
enum Outcome {
    Turns,
    TurnsWithPlanets,
    TurnsInLoops,
    Locked,
    Contradicts,
}

fn compare(number: u64) -> Outcome {
    let mut model = Model::new(number);
    let standing: Vec<&Row> = model.rows.iter().filter(|row| row.sum == 0.0).collect();
    let freedom = model.freedom(&standing);
    let driver = model.drive();
    let lines: Vec<&str> = model.lines.iter().map(String::as_str).collect();
    let mechanism = match notation::read(&lines) {
        Ok(mechanism) => mechanism,
        Err(faults) => panic!("{number}: {lines:#?} {faults:?}"),
    };
    let solved = solve::solve(&mechanism);
    if freedom == 0 {
        let faults = solved.expect_err("a mechanism without freedom is locked");
        assert!(
            faults
                .iter()
                .any(|fault| matches!(fault, fault::Fault::Locked { .. })),
            "{number}: {faults:?}\n{lines:#?}"
        );
        return Outcome::Locked;
    }
    let Some(speeds) = model.speeds() else {
        assert!(
            solved.is_err(),
            "{number}: no speeds, but solved\n{lines:#?}"
        );
        return Outcome::Contradicts;
    };
    let solution = match solved {
        Ok(solution) => solution,
        Err(faults) => panic!("{number}: {faults:?}\n{lines:#?}"),
    };
    let largest = speeds.iter().fold(0.0, |most: f64, it| most.max(it.abs()));
    for (body, name) in model.bodies.iter().enumerate() {
        let part = mechanism
            .parts
            .iter()
            .find(|part| part.name == *name)
            .expect("every body has a named part");
        let motion = &solution.motions[part.body.index()];
        let found = motion.turns.expect("every body's motion follows").to_f64();
        let expected = speeds[body];
        // What stands still has no size of its own to compare with.
        let size = if found == 0.0 { largest } else { found };
        assert!(
            (found - expected.abs()).abs() <= 1e-9 * size,
            "{number}: {name} {found} {expected}\n{lines:#?}"
        );
        let follows = model.seen[body] == model.seen[driver] && found != 0.0;
        assert_eq!(
            motion.sense.is_some(),
            follows,
            "{number}: {name}'s sense\n{lines:#?}"
        );
        let expected_sense = match (model.slides[body], expected > 0.0) {
            (false, true) => mechanism::Sense::Clockwise,
            (false, false) => mechanism::Sense::Anticlockwise,
            (true, true) => mechanism::Sense::Right,
            (true, false) => mechanism::Sense::Left,
        };
        if let Some(sense) = motion.sense {
            assert_eq!(sense, expected_sense, "{number}: {name}\n{lines:#?}");
        }
    }
    if model.has_planets {
        Outcome::TurnsWithPlanets
    } else if lines.iter().any(|line| line.contains("meshes with")) {
        Outcome::TurnsInLoops
    } else {
        Outcome::Turns
    }
}

#[test]
fn random_mechanisms_move_as_their_linear_equations_say() {
    let mut outcomes = std::collections::BTreeMap::new();
    for number in 0..4000 {
        *outcomes.entry(compare(number)).or_insert(0) += 1;
    }
    let count = |outcome| outcomes.get(&outcome).copied().unwrap_or(0);
    assert!(count(Outcome::Turns) > 800, "{outcomes:?}");
    assert!(count(Outcome::TurnsWithPlanets) > 800, "{outcomes:?}");
    assert!(count(Outcome::TurnsInLoops) > 50, "{outcomes:?}");
    assert!(count(Outcome::Locked) > 100, "{outcomes:?}");
}
