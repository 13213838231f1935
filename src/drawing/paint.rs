//! The shapes of a plan whose axles have their places, at a scale.

mod across;
mod fitting;
mod worm;

use crate::drawing::curve;
use crate::drawing::field;
use crate::drawing::layout;
use crate::drawing::mover;
use crate::drawing::plan;
use crate::drawing::shape;
use crate::drawing::strand;
use crate::drawing::tooth;
use crate::gears::mechanism;
use kurbo::Affine;
use kurbo::BezPath;
use kurbo::Point;
use std::f64::consts::PI;

/// How much paper parts what is nearer from what it covers: in tooth sizes, and at the
/// least and the most.
const PARTING: (f64, f64, f64) = (0.4, 0.22, 0.5);

/// A picture as it grows, in millimetres.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Canvas<'a> {
    /// What is drawn.
    pub(super) mechanism: &'a mechanism::Mechanism,
    /// The plan.
    pub(super) plan: &'a plan::Plan,
    /// Millimetres in a tooth size.
    pub(super) scale: f64,
    /// The shapes, the farthest first.
    pub(super) shapes: Vec<shape::Shape>,
    /// What takes up room.
    pub(super) field: field::Field,
    /// Which of the shapes is the outline of each wheel, rack and shaft, in the plan's
    /// order.
    pub(super) outlines: Outlines,
    /// How the shapes move.
    pub(super) runs: mover::Runs,
}

/// Which shapes are outlines.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Outlines {
    /// Of wheels, by their place in the plan.
    pub(super) wheels: Vec<usize>,
    /// Of racks.
    pub(super) racks: Vec<usize>,
    /// Of worms and bevel gears that are seen from the side.
    pub(super) shafts: Vec<usize>,
}

impl<'a> Canvas<'a> {
    /// Returns the picture without labels and arrows.
    pub(super) fn painted(
        mechanism: &'a mechanism::Mechanism,
        plan: &'a plan::Plan,
        scale: f64,
    ) -> Self {
        let mut canvas = Self {
            mechanism,
            plan,
            scale,
            shapes: Vec::new(),
            field: field::Field::default(),
            outlines: Outlines {
                wheels: vec![0; plan.wheels.len()],
                racks: vec![0; plan.racks.len()],
                shafts: vec![0; plan.shafts.len()],
            },
            runs: vec![(0, mover::Mover::Still)],
        };
        canvas.fittings_behind();
        let mut depths: Vec<i32> = plan.wheels.iter().map(|wheel| wheel.depth).collect();
        depths.sort_unstable();
        depths.dedup();
        for depth in depths {
            canvas.plane(depth);
        }
        canvas.moving(mover::Mover::Still);
        canvas.hidden();
        canvas.loose_axles();
        canvas.fittings_before();
        canvas.moving(mover::Mover::Still);
        for wheel in &plan.wheels {
            canvas.field.wheels.push(field::Round {
                centre: canvas.at(plan.centres[wheel.node]),
                inner: wheel.inner * scale,
                outer: wheel.outer * scale,
                hollow: wheel.form.is_hollow(),
                node: wheel.node,
                depth: wheel.depth,
            });
        }
        canvas
    }

    /// A place of the plan on the page.
    fn at(&self, point: Point) -> Point {
        Point::new(point.x * self.scale, point.y * self.scale)
    }

    /// The usual line: fine teeth want a finer one.
    pub(super) fn line_mm(&self) -> f64 {
        (0.3 * self.scale).clamp(0.25, 0.4)
    }

    /// A line of detail, which a photocopier still sees.
    fn thin_mm(&self) -> f64 {
        (self.line_mm() * 0.6).max(0.18)
    }

    fn path(&mut self, path: BezPath, style: shape::Style) {
        self.shapes.push(shape::Shape::Path { path, style });
    }

    fn circle(&mut self, centre: Point, radius_mm: f64, style: shape::Style) {
        self.shapes.push(shape::Shape::Circle {
            centre,
            radius_mm,
            style,
        });
    }

    /// Everything of one plane: wheels, racks and worms, then chains and belts.
    fn plane(&mut self, depth: i32) {
        let plan = self.plan;
        self.parted(depth);
        // Teeth lie over the plain circles that they meet.
        let mut order: Vec<usize> = (0..plan.wheels.len()).collect();
        order.sort_by_key(|&index| !plan.wheels[index].form.is_plain());
        for index in order {
            let wheel = &plan.wheels[index];
            if wheel.depth == depth {
                self.wheel(index);
                for (place, rack) in plan.racks.iter().enumerate() {
                    if rack.wheel == index {
                        self.outlines.racks[place] = self.shapes.len();
                        self.rack(rack);
                    }
                }
                for (place, shaft) in plan.shafts.iter().enumerate() {
                    if shaft.wheel == index {
                        self.outlines.shafts[place] = self.shaft(shaft);
                    }
                }
            }
        }
        self.moving(mover::Mover::Still);
        for edge in &plan.edges {
            if plan.wheels[edge.first].depth != depth {
                continue;
            }
            match edge.tie {
                plan::Tie::Chain => self.chain(edge),
                plan::Tie::Belt | plan::Tie::CrossedBelt => self.belt(edge),
                plan::Tie::Mesh | plan::Tie::Inside | plan::Tie::Misfit => {}
            }
        }
    }

    /// A little paper round everything of a plane where it lies before another, so that
    /// wheels that overlap are not taken for wheels that mesh.
    fn parted(&mut self, depth: i32) {
        let plan = self.plan;
        if plan.wheels.iter().all(|wheel| wheel.depth >= depth) {
            return;
        }
        let (share, least, most) = PARTING;
        let style = shape::Style {
            pen: shape::Pen::Paper,
            ..shape::Style::paper(2.0 * (share * self.scale).clamp(least, most))
        };
        for wheel in plan.wheels.iter().filter(|it| it.depth == depth) {
            let centre = self.at(plan.centres[wheel.node]);
            self.moving(self.wheel_mover(wheel));
            let is_before_its_own = plan
                .wheels
                .iter()
                .any(|it| it.node == wheel.node && it.depth < depth);
            match wheel.form {
                // The roots of a wheel behind it on its axle show in its gaps.
                plan::Form::Gear(teeth) if is_before_its_own => {
                    let placed = Affine::translate(centre.to_vec2())
                        * Affine::scale(self.scale * wheel.tooth);
                    let outline = tooth::Tooth::new(teeth).outline(wheel.phase);
                    self.path(placed * outline, style);
                }
                plan::Form::Gear(_)
                | plan::Form::Bevel(_)
                | plan::Form::Plain
                | plan::Form::Sprocket(_)
                | plan::Form::Pulley => {
                    self.circle(centre, wheel.outer * self.scale, style);
                }
                plan::Form::Ring(_) | plan::Form::PlainRing => {
                    let mut rim = BezPath::new();
                    for radius in [wheel.outer, wheel.inner] {
                        let mut circle = BezPath::new();
                        curve::arc(&mut circle, centre, radius * self.scale, (0.0, 2.0 * PI));
                        circle.close_path();
                        rim.extend(circle);
                    }
                    self.path(rim, style);
                }
            }
        }
    }

    /// How a wheel moves: one that is taken out stands still.
    fn wheel_mover(&self, wheel: &plan::Wheel) -> mover::Mover {
        if wheel.taken_out {
            mover::Mover::Still
        } else {
            mover::Mover::Wheel(self.axle(wheel.part, wheel.node))
        }
    }

    fn wheel(&mut self, index: usize) {
        let wheel = &self.plan.wheels[index];
        let centre = self.at(self.plan.centres[wheel.node]);
        let is_front = self
            .plan
            .wheels
            .iter()
            .any(|it| it.node == wheel.node && it.depth < wheel.depth && !it.form.is_hollow());
        let weight = if is_front { 1.5 } else { 1.0 };
        let mut style = shape::Style::paper(self.line_mm() * weight);
        if wheel.taken_out {
            style = shape::Style::paper(self.line_mm()).dashed(shape::Dash::Fine);
        }
        let size = self.scale * wheel.tooth;
        let placed = Affine::translate(centre.to_vec2()) * Affine::scale(size);
        self.outlines.wheels[index] = self.shapes.len();
        self.moving(self.wheel_mover(wheel));
        match wheel.form {
            plan::Form::Gear(teeth) => {
                let outline = tooth::Tooth::new(teeth).outline(wheel.phase);
                self.path(placed * outline, style);
            }
            plan::Form::Bevel(teeth) => self.bevel_face(index, teeth, style),
            plan::Form::Ring(teeth) => {
                let mut rim = BezPath::new();
                curve::arc(
                    &mut rim,
                    Point::ORIGIN,
                    wheel.outer / wheel.tooth,
                    (0.0, 2.0 * PI),
                );
                rim.close_path();
                rim.extend(tooth::ring_outline(
                    teeth,
                    wheel.inner / wheel.tooth,
                    wheel.phase,
                ));
                self.path(placed * rim, style);
            }
            plan::Form::Plain => {
                let style = style.dashed(shape::Dash::Broken);
                self.circle(centre, wheel.pitch * self.scale, style);
            }
            plan::Form::PlainRing => {
                let mut rim = BezPath::new();
                for radius in [wheel.outer, wheel.pitch] {
                    let mut circle = BezPath::new();
                    curve::arc(&mut circle, centre, radius * self.scale, (0.0, 2.0 * PI));
                    circle.close_path();
                    rim.extend(circle);
                }
                self.path(rim, style.dashed(shape::Dash::Broken));
            }
            plan::Form::Sprocket(teeth) => {
                self.path(placed * strand::sprocket(teeth, wheel.phase), style);
            }
            plan::Form::Pulley => {
                self.circle(centre, wheel.outer * self.scale, style);
                let groove = shape::Style::line(self.thin_mm());
                self.circle(centre, wheel.inner * self.scale, groove);
            }
        }
        if !wheel.form.is_hollow() {
            self.hub(index, is_front);
        }
    }

    /// The axle of a wheel; where it is fixed to a larger one behind it, with the key
    /// that holds both and two bolts.
    fn hub(&mut self, index: usize, is_front: bool) {
        let wheel = &self.plan.wheels[index];
        let centre = self.at(self.plan.centres[wheel.node]);
        let room = wheel.inner * self.scale;
        let unit_mm = wheel.tooth * self.scale;
        let axle = (0.9 * unit_mm).clamp(0.55, 1.5).min(room * 0.4);
        self.field.discs.push((centre, axle * 1.7));
        let line = self.line_mm();
        self.circle(centre, axle * 1.7, shape::Style::paper(line));
        self.circle(centre, axle, shape::Style::ink());
        if is_front {
            let side = axle * 0.9;
            let key = [
                Point::new(centre.x - side / 2.0, centre.y - axle * 1.7),
                Point::new(centre.x + side / 2.0, centre.y - axle * 1.7),
                Point::new(centre.x + side / 2.0, centre.y),
                Point::new(centre.x - side / 2.0, centre.y),
            ];
            self.path(curve::closed(&key), shape::Style::ink());
            let far = f64::midpoint(axle * 1.7, room);
            let bolt = (axle * 0.45).min((room - axle * 1.7) * 0.3);
            if bolt > 0.2 {
                for side in [-1.0, 1.0] {
                    let at = Point::new(centre.x + side * far, centre.y);
                    self.circle(at, bolt, shape::Style::ink());
                    self.field.discs.push((at, bolt));
                }
            }
        }
    }

    /// Wheels behind one that is as large: their outline in dashes.
    fn hidden(&mut self) {
        for wheel in &self.plan.wheels {
            if self.plan.is_hidden(wheel) && !self.plan.is_seen_in_gaps(wheel) {
                let centre = self.at(self.plan.centres[wheel.node]);
                let style = shape::Style::line(self.line_mm()).dashed(shape::Dash::Broken);
                let radius = (wheel.outer - 0.3) * self.scale;
                self.circle(centre, radius, style);
                self.field.add_circle(centre, radius, 0.4);
            }
        }
    }

    /// Axles that carry no wheel of their own to draw a hub on.
    fn loose_axles(&mut self) {
        for node in 0..self.plan.node_count {
            let has_hub = self
                .plan
                .wheels
                .iter()
                .any(|wheel| wheel.node == node && !wheel.form.is_hollow());
            let has_fitting = self.plan.fittings.iter().any(|it| it.node == node);
            if !has_hub && has_fitting {
                let centre = self.at(self.plan.centres[node]);
                let axle = (0.9 * self.scale).clamp(0.55, 1.5);
                self.circle(centre, axle, shape::Style::ink());
                self.field.discs.push((centre, axle * 1.7));
            }
        }
    }

    fn rack(&mut self, rack: &plan::Rack) {
        let wheel = &self.plan.wheels[rack.wheel];
        let centre = self.plan.centres[wheel.node];
        let size = wheel.tooth;
        let half = layout::rack_half(wheel) / size;
        let mut slide = self.slide(rack.wheel, wheel.pitch);
        if !rack.above {
            slide.mm_a_turn = -slide.mm_a_turn;
        }
        self.moving(mover::Mover::Rack {
            part: rack.part,
            slide,
            most_mm: (half - END_TEETH * PI).max(PI) * size * self.scale,
        });
        let phase = (rack.phase / size).rem_euclid(PI);
        // Whole teeth only, as many as the bar has room for.
        let tooth_half = 1.3;
        let mut first = 0_i32;
        while phase + PI * f64::from(first - 1) - tooth_half > -half {
            first -= 1;
        }
        let mut teeth = 0_u32;
        while phase + PI * (f64::from(first) + f64::from(teeth)) + tooth_half < half {
            teeth += 1;
        }
        let back = tooth::DEDENDUM + layout::BAR;
        let mut points = vec![Point::new(-half, back), Point::new(-half, tooth::DEDENDUM)];
        points.extend(tooth::rack_edge(phase, first, teeth));
        points.extend([Point::new(half, tooth::DEDENDUM), Point::new(half, back)]);
        let flip = if rack.above { -1.0 } else { 1.0 };
        let placed = Affine::scale(self.scale)
            * Affine::translate((centre.x, centre.y + flip * wheel.pitch))
            * Affine::scale_non_uniform(size, flip * size);
        let style = shape::Style::paper(self.line_mm());
        self.path(placed * curve::closed(&points), style);
        let bounds = layout::rack_box(self.plan, rack);
        self.field.boxes.push(scaled(bounds, self.scale));
    }

    fn chain(&mut self, edge: &plan::Edge) {
        let strand = strand::Strand::of(self.plan, edge);
        let tooth = self.plan.wheels[edge.first].tooth;
        let rollers = (PI * tooth * self.scale, 0.62 * tooth * self.scale);
        self.strand_runs(edge, &strand, Some(rollers), self.line_mm() * 1.2);
        for half in strand.halves() {
            let style = shape::Style::line(self.line_mm() * 1.2);
            self.path(Affine::scale(self.scale) * half, style);
        }
        let radius = 0.62 * self.plan.wheels[edge.first].tooth * self.scale;
        for roller in strand.rollers() {
            let style = shape::Style::paper(self.thin_mm());
            self.circle(self.at(roller), radius, style);
        }
        for (from, to) in strand.runs() {
            let (from, to) = (self.at(from), self.at(to));
            self.field.lines.push((from, to, radius * 2.0));
        }
    }

    /// Says how a chain or belt runs.
    fn strand_runs(
        &mut self,
        edge: &plan::Edge,
        strand: &strand::Strand,
        rollers: Option<(f64, f64)>,
        width_mm: f64,
    ) {
        let slide = self.slide(edge.first, strand.first_radius());
        self.moving(mover::Mover::Strand(mover::Strand {
            slide,
            path: Affine::scale(self.scale) * strand.whole(),
            length_mm: strand.length() * self.scale,
            rollers,
            width_mm,
        }));
    }

    fn belt(&mut self, edge: &plan::Edge) {
        let strand = strand::Strand::of(self.plan, edge);
        let width = (1.1 * self.scale).max(0.9);
        self.strand_runs(edge, &strand, None, width);
        for half in strand.halves() {
            let path = Affine::scale(self.scale) * half;
            self.path(path.clone(), shape::Style::line(width));
            let inside = shape::Style {
                fill: shape::Fill::Open,
                line_mm: width - 2.0 * self.line_mm(),
                pen: shape::Pen::Paper,
                dash: shape::Dash::Solid,
            };
            self.path(path, inside);
        }
        for (from, to) in strand.runs() {
            let (from, to) = (self.at(from), self.at(to));
            self.field.lines.push((from, to, width));
        }
    }
}

/// How many teeth of a rack stay past its pinion's axle when it is pushed to its end.
const END_TEETH: f64 = 1.5;

/// Returns a box of the plan on the page.
fn scaled(bounds: kurbo::Rect, scale: f64) -> kurbo::Rect {
    kurbo::Rect::new(
        bounds.x0 * scale,
        bounds.y0 * scale,
        bounds.x1 * scale,
        bounds.y1 * scale,
    )
}
