//! Adds a solved condition up again from the numbers that are published of it.
//!
//! Nothing of the solver is used: flows, pressures, temperatures and heat are read off the result,
//! what joins what and the conductances off the case. The errors are measured as the solver says
//! that it measures its own, so that they must come out below the same bound.

use slowcorner::case::{Case, PassageTable, tables as t};
use slowcorner::element::{fins, ram_inlet, size};
use slowcorner::point::result::{Condition, PassageResult};
use slowcorner::point::{Model, Operation};

const ZERO_CELSIUS: f64 = 273.15;

/// The largest relative error of each kind of balance.
#[derive(Clone, Copy, Debug, Default)]
pub struct Errors {
    /// Flows into and out of each chamber.
    pub mass: f64,
    /// Pressures along each passage.
    pub pressure: f64,
    /// Heat into and out of each part.
    pub part_heat: f64,
    /// Heat into and out of each chamber.
    pub chamber_heat: f64,
    /// Temperature of the air that enters each passage, in 300 K.
    pub entering: f64,
    /// Velocity heads lost where the air leaves.
    pub head: f64,
}

impl Errors {
    /// The largest of all; infinite where one is not a number.
    pub fn worst(&self) -> f64 {
        let all = [self.mass, self.pressure, self.part_heat, self.chamber_heat, self.entering, self.head];
        all.into_iter().fold(0.0, |worst, e| if e.is_nan() { f64::INFINITY } else { e.max(worst) })
    }
}

/// `f64::max` passes over what is not a number; this does not.
fn raise(worst: &mut f64, error: f64) {
    if error.is_nan() || error > *worst {
        *worst = error;
    }
}

/// A passage of the case and what was found of it.
struct Course<'a> {
    table: &'a PassageTable,
    found: &'a PassageResult,
}

impl Course<'_> {
    fn forward(&self) -> bool {
        self.found.mass_flow_kg_s >= 0.0
    }

    /// Where the air leaves and where it enters.
    fn ends(&self) -> (&str, &str) {
        let (from, to) = (self.table.from.as_str(), self.table.to.as_str());
        if self.forward() { (from, to) } else { (to, from) }
    }

    /// Elements in the order in which the air meets them, with the temperature [K] in front of each;
    /// `entering` [K] is that in front of the first.
    fn steps(&self, entering: f64) -> Vec<(usize, f64, f64)> {
        // sudden changes of area, written or not, leave the temperature as it is
        let written: Vec<_> = self.found.written().collect();
        let count = written.len();
        let mut before = entering;
        let order: Vec<usize> =
            if self.forward() { (0..count).collect() } else { (0..count).rev().collect() };
        order
            .into_iter()
            .map(|element| {
                let behind = written[element].outlet_temperature_C + ZERO_CELSIUS;
                (element, std::mem::replace(&mut before, behind), behind)
            })
            .collect()
    }
}

/// Errors of a solved condition, the `index`th of the case.
pub fn errors(case: &Case, model: &Model, condition: &Condition, index: usize) -> Errors {
    let operation = Operation::of_condition(case, model, &case.conditions[index].values);
    let air = operation.air;
    let total = air.total_temperature((operation.speed + operation.wind).max(0.0));
    let courses: Vec<Course> =
        case.passages.iter().zip(&condition.passages).map(|(table, found)| Course { table, found }).collect();
    let pressure = |end: &str| match case.chamber(end) {
        Some(chamber) => condition.chambers[chamber].gauge_pressure_Pa,
        None => 0.0,
    };
    // the temperature at which air enters each passage, by what stands at that end
    let entering: Vec<f64> = courses
        .iter()
        .map(|course| match case.chamber(course.ends().0) {
            Some(chamber) => condition.chambers[chamber].temperature_C + ZERO_CELSIUS,
            None if course.forward() => warmed(case, &courses, course, total),
            None => total,
        })
        .collect();

    let mut errors = Errors::default();
    for (course, &entering) in courses.iter().zip(&entering) {
        // an opening does not warm the air, so that what is behind it is what entered
        let opening = course.table.opening() == Some(0) && course.forward();
        if let Some(first) = course.found.elements.first().filter(|_| opening) {
            let behind = first.outlet_temperature_C + ZERO_CELSIUS;
            // air that stands does not come in
            if course.found.mass_flow_kg_s.abs() > 1e-9 {
                raise(&mut errors.entering, (behind - entering).abs() / 300.0);
            }
        }
        if course.table.to != "engine" {
            add_pressures(course, &pressure, &mut errors);
        }
        if let (Some(head), true) = (head_of_last(case, course, &operation), course.table.to != "engine") {
            let published = course.found.last_velocity_head_Pa;
            raise(&mut errors.head, (published - head).abs() / head.max(1.0));
        }
    }
    add_chambers(case, condition, &courses, &operation, &mut errors);
    add_parts(case, condition, &courses, &entering, &operation, &mut errors);
    errors
}

/// Temperature [K] of the air in an inlet that draws an exit's warm air in again.
fn warmed(case: &Case, courses: &[Course], course: &Course, total: f64) -> f64 {
    let mut temperature = total;
    for table in course.table.elements.iter().flat_map(|e| e.tables(&ram_inlet::RECIRCULATION)) {
        let exit = table.text(&ram_inlet::FROM).and_then(|name| case.passage(name)).map(|i| &courses[i]);
        let (Some(exit), Some(share)) = (exit, case.view(table).number(&ram_inlet::SHARE)) else { continue };
        // nothing where either stands or runs back, faded out by a cubic below 2 % of the inlet's flow, and below a hundredth
        // of a milligramme a second
        let (warm, drawn) = (exit.found.mass_flow_kg_s, course.found.mass_flow_kg_s);
        let x = if warm > 0.0 && drawn > 0.0 { (warm / (0.02 * drawn)).min(1.0) } else { 0.0 };
        let outlet = exit.found.outlet_temperature_C + ZERO_CELSIUS;
        let cubic = |x: f64| x * x * (3.0 - 2.0 * x);
        temperature += share * cubic(x) * cubic((warm / 1e-8).clamp(0.0, 1.0)) * (outlet - total);
    }
    temperature
}

/// Pressure in `from` + what pushes − what is lost − the last head = pressure in `to`.
fn add_pressures(course: &Course, pressure: &impl Fn(&str) -> f64, errors: &mut Errors) {
    let found = course.found;
    let sign = if course.forward() { 1.0 } else { -1.0 };
    let (from, to) = (pressure(&course.table.from), pressure(&course.table.to));
    let push: f64 = found.elements.iter().map(|e| e.push_Pa).sum();
    let loss: f64 = found.elements.iter().map(|e| e.loss_Pa).sum();
    let sizes: f64 = found.elements.iter().map(|e| e.push_Pa.abs() + e.loss_Pa.abs()).sum();
    let head = found.last_velocity_head_Pa;
    let error = from + push - sign * (loss + head) - to;
    raise(&mut errors.pressure, error.abs() / (sizes + head + from.abs() + to.abs()).max(1.0));
}

/// ½ρV² where the air leaves, ρ at the temperature at which it leaves; none where the last element
/// along the motion opens into another area than its own, or has none, or where the air all but
/// stands.
fn head_of_last(case: &Case, course: &Course, operation: &Operation) -> Option<f64> {
    let written: Vec<_> = course.found.written().collect();
    let last = if course.forward() { written.len().checked_sub(1)? } else { 0 };
    let element = written[last];
    // laws are smooth, not exact, below 2 cm/s of the day's air on the passage's smallest area
    let flow = course.found.mass_flow_kg_s.abs();
    let pieces = |element: usize| {
        let of_one = case.view(&course.table.elements[element]).number(&size::COUNT).unwrap_or(1.0);
        of_one * course.found.count as f64
    };
    let areas = written.iter().enumerate().filter_map(|(i, e)| Some(e.area_m2? * pieces(i)));
    // behind a step that opens into the chamber nothing is left of the speed, whatever loss is written after it
    let mut along = written.clone();
    if course.forward() {
        along.reverse();
    }
    along.retain(|e| !["loss", "leak", "demand"].contains(&e.kind));
    let opened = along.first().is_some_and(|e| e.kind == "step");
    let stands = opened || flow < 0.0201 * operation.air.density() * areas.fold(1.0, f64::min);
    // the head goes on through a joint, whatever loss is written at it
    let leaves_to = if course.forward() { &course.found.to } else { &course.found.from };
    let into_joint = along.first().is_some_and(|e| e.kind == "tee") && leaves_to.ends_with("joint");
    if stands || into_joint || ["step", "diffuser", "contraction"].contains(&element.kind) {
        return None;
    }
    let flux = flow / (element.area_m2? * pieces(last));
    let outlet = course.found.outlet_temperature_C + ZERO_CELSIUS;
    Some(0.5 * flux * flux / operation.air.density_at(outlet))
}

/// Σ flows, and the heat that the air brings, of each chamber.
fn add_chambers(
    case: &Case,
    condition: &Condition,
    courses: &[Course],
    operation: &Operation,
    errors: &mut Errors,
) {
    let day = operation.air.temperature;
    for (chamber, found) in case.chambers.iter().zip(&condition.chambers) {
        let temperature = found.temperature_C + ZERO_CELSIUS;
        let (mut mass, mut passing, mut heat, mut carried) = (0.0, 0.0, 0.0, 0.0);
        for course in courses {
            let flow = course.found.mass_flow_kg_s.abs();
            let (enters, leaves) = course.ends();
            if enters == chamber.name {
                mass -= flow;
                passing += flow;
            }
            if leaves == chamber.name {
                let outlet = course.found.outlet_temperature_C + ZERO_CELSIUS;
                let capacity = flow * operation.air.heat_capacity;
                mass += flow;
                passing += flow;
                heat += capacity * (outlet - temperature);
                carried += capacity * (temperature - day).abs();
            }
        }
        raise(&mut errors.mass, mass.abs() / passing.max(1e-6));

        let given = condition.heat_to.get(&chamber.name).copied().unwrap_or(0.0);
        heat += given + case.view(&chamber.values).required(&t::SKIN_CONDUCTANCE) * (day - temperature);
        for (part, found) in case.parts.iter().zip(&condition.parts) {
            if case.chamber_of(&part.values) == case.chamber(&chamber.name) {
                let conductance = case.view(&part.values).required(&t::BAY_CONDUCTANCE);
                heat += conductance * (found.temperature_C + ZERO_CELSIUS - temperature);
            }
        }
        raise(&mut errors.chamber_heat, heat.abs() / (carried + given.abs()).max(1.0));
    }
}

/// Heat given to each part = what its elements give to the air + what it gives to its chamber; and
/// the heat given lies where the part's own law puts it.
fn add_parts(
    case: &Case,
    condition: &Condition,
    courses: &[Course],
    entering: &[f64],
    operation: &Operation,
    errors: &mut Errors,
) {
    for (part, found) in case.parts.iter().zip(&condition.parts) {
        let temperature = found.temperature_C + ZERO_CELSIUS;
        let given = condition.heat_to.get(&part.name).copied().unwrap_or(0.0);
        let mut heat = given;
        for (course, entering) in courses.iter().zip(entering) {
            let capacity = course.found.mass_flow_kg_s.abs() * operation.air.heat_capacity;
            for (element, before, behind) in course.steps(*entering) {
                if course.table.elements[element].text(&fins::PART) == Some(part.name.as_str()) {
                    heat -= capacity * (behind - before);
                }
            }
        }
        let around = match case.chamber_of(&part.values) {
            Some(chamber) => condition.chambers[chamber].temperature_C + ZERO_CELSIUS,
            None => operation.air.temperature,
        };
        heat -= case.view(&part.values).required(&t::BAY_CONDUCTANCE) * (temperature - around);
        raise(&mut errors.part_heat, heat.abs() / given.abs().max(1.0));
    }
}
