//! Figures computed with general-purpose libraries: fluids 1.3.1, ht 1.2.0, CoolProp 8.0.0,
//! psychrolib 2.5.0, ambiance 1.3.1. The call that made a figure stands in its row.
//!
//! Two tables: `component_figures.csv`, and `branch_figures.csv`, which adds the branches and
//! ends of range that the first leaves out. Both were written with ten significant digits; a
//! row is held to half a unit of the tenth, except where its quantity names a share ("within
//! 3 %"), because another method, a real gas or an exact solution stands behind it.

use crate::published::support::{dry_air, geopotential_altitude};
use slowcorner::air::{Air, moist, standard_atmosphere, transport};
use slowcorner::correlations::{area_change, bends, effectiveness, friction, screens};

struct Row {
    quantity: String,
    inputs: Vec<(String, f64)>,
    value: f64,
    call: String,
}

impl Row {
    /// The input of that name.
    fn get(&self, name: &str) -> f64 {
        let found = self.inputs.iter().find(|(key, _)| key == name);
        found.unwrap_or_else(|| panic!("no {name} in {}", self.quantity)).1
    }

    fn beta(&self) -> f64 {
        let (d1, d2) = (self.get("d1_m"), self.get("d2_m"));
        d1.min(d2) / d1.max(d2)
    }

    fn angle(&self, name: &str) -> f64 {
        self.get(name).to_radians()
    }

    /// What the row allows: the share in the quantity's name, else half its tenth digit.
    fn tolerance(&self) -> f64 {
        match self.quantity.split_once("within ") {
            Some((_, rest)) => {
                let percent = rest.split_whitespace().next().unwrap();
                self.value.abs() * percent.parse::<f64>().unwrap() / 100.0
            }
            None => 0.5 * 10f64.powf(self.value.abs().log10().floor() - 9.0),
        }
    }

    /// The crate's own figure or figures for the row.
    fn ours(&self) -> Vec<f64> {
        let starts = |text: &str| self.quantity.starts_with(text);
        if starts("friction factor") {
            vec![friction::churchill(self.get("Re"), self.get("eD")).0]
        } else if starts("bend rounded K") {
            let radius = self.get("radius_over_diameter");
            let k = bends::rounded(self.angle("angle_deg"), radius);
            vec![k.at(self.get("darcy_f"))]
        } else if starts("bend mitred K") {
            vec![bends::mitred(self.angle("angle_deg")).at(0.02)]
        } else if starts("diffuser conical K") {
            let k = area_change::conical_diffuser(self.beta(), self.angle("included_angle_deg"));
            vec![k.at(self.get("darcy_f"))]
        } else if starts("contraction conical K") {
            let angle = self.angle("included_angle_deg");
            let k = area_change::conical_contraction(self.beta(), angle);
            vec![k.at(self.get("darcy_f"))]
        } else if starts("sudden expansion K") {
            vec![area_change::sudden_enlargement(self.beta() * self.beta())]
        } else if starts("sudden contraction K") {
            vec![area_change::sharp_contraction(self.beta())]
        } else if starts("rounded contraction K") {
            let small = self.get("d1_m").min(self.get("d2_m"));
            vec![area_change::rounded_contraction(self.beta(), self.get("radius_m") / small)]
        } else if starts("entrance rounded K") {
            vec![area_change::rounded_entrance(self.get("radius_over_diameter"))]
        } else if starts("round-wire screen K") {
            let open = self.get("open_fraction");
            vec![screens::wire_screen(open), screens::woven(open)]
        } else if starts("round-wire mesh K") {
            let open = self.get("open_fraction");
            vec![screens::open_mesh(open), screens::woven(open)]
        } else if starts("perforated square-edged plate K") {
            vec![screens::perforated_plate(self.get("open_fraction"))]
        } else if starts("cross-flow effectiveness") {
            let (ntu, ratio) = (self.get("NTU"), self.get("Cr"));
            vec![effectiveness::cross_flow(ntu, ratio).0, effectiveness::cross_flow_value(ntu, ratio)]
        } else if starts("ISA pressure") {
            // The rows give geometric altitude.
            let altitude = geopotential_altitude(self.get("altitude_m"));
            vec![standard_atmosphere::pressure(altitude)]
        } else if starts("moist air density") {
            let kelvin = self.get("T_C") + 273.15;
            vec![Air::new(self.get("p_Pa"), kelvin, 0.0, self.get("RH")).density()]
        } else if starts("saturation vapour pressure") {
            vec![moist::saturation_pressure(self.get("T_C") + 273.15)]
        } else if starts("dry air viscosity") {
            vec![transport::viscosity(self.get("T_K"))]
        } else if starts("dry air heat capacity") {
            vec![dry_air(101_325.0, self.get("T_K")).heat_capacity]
        } else {
            panic!("no check for: {}", self.quantity)
        }
    }
}

/// Cells of one line; a cell in quotes may hold commas.
fn cells(line: &str) -> Vec<String> {
    let (mut cells, mut cell, mut quoted) = (Vec::new(), String::new(), false);
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(std::mem::take(&mut cell)),
            _ => cell.push(letter),
        }
    }
    cells.push(cell);
    cells
}

fn rows(text: &str) -> Vec<Row> {
    text.lines()
        .skip(1)
        .filter(|line| !line.is_empty())
        .map(|line| {
            let cells = cells(line);
            assert_eq!(cells.len(), 5, "{line}");
            let inputs = cells[1].split("; ").map(|pair| {
                let (name, number) = pair.split_once('=').unwrap();
                (name.to_string(), number.parse().unwrap())
            });
            Row {
                quantity: cells[0].clone(),
                inputs: inputs.collect(),
                value: cells[2].parse().unwrap(),
                call: cells[4].clone(),
            }
        })
        .collect()
}

/// Every row that does not hold, in words.
fn faults(rows: &[Row], keeps: bool) -> Vec<String> {
    let mut faults = Vec::new();
    for row in rows {
        for got in row.ours() {
            // A last bit for two orders of the same additions.
            let allowed = row.tolerance() + 1e-14 * row.value.abs();
            if keeps {
                let inputs: Vec<String> =
                    row.inputs.iter().map(|(name, value)| format!("{name} {value}")).collect();
                let what = format!("{}: {}, {}", row.quantity, inputs.join(", "), row.call);
                crate::published::page::keep(&what, got, row.value, allowed);
            }
            if (got - row.value).abs() > allowed || got.is_nan() {
                faults.push(format!(
                    "{} {:?}: {got}, {} gives {}, allowed {allowed:e}",
                    row.quantity, row.inputs, row.call, row.value
                ));
            }
        }
    }
    faults
}

#[test]
fn every_component_figure() {
    // Computed with the library named in each row.
    // Allowed: half of the tenth digit; where a quantity names a share, that share, as another method, a real gas or an
    // exact solution stands behind it.
    let rows = rows(include_str!("component_figures.csv"));
    assert_eq!(rows.len(), 100);
    let faults = faults(&rows, true);
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn every_branch_and_end_of_range() {
    // Computed with the library named in each row.
    // Allowed: half of the tenth digit; where a quantity names a share, that share.
    let rows = rows(include_str!("branch_figures.csv"));
    assert_eq!(rows.len(), 71);
    let faults = faults(&rows, true);
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn a_wrong_figure_is_found() {
    let text = "quantity,inputs,value,unit,library_call\n\
        bend mitred K (Rennels),angle_deg=50.4,0.3764303201,1,none\n\
        \"friction factor (should be within 3 %)\",\"Re=27860.0; eD=0.00151\",0.0263,1,none\n";
    assert_eq!(faults(&rows(text), false).len(), 2);
}
