//! Cars made up at random, as case texts.

use proptest::collection::vec;
use proptest::prelude::*;

/// What numbers are written in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Units {
    Metric,
    Imperial,
}

/// Numbers from 0 to 1 from which a car is made; drawn in a fixed order.
#[derive(Clone, Debug)]
pub struct Dice(Vec<f64>);

pub fn dice() -> impl Strategy<Value = Dice> {
    vec(0.0..1.0_f64, 72).prop_map(Dice)
}

/// A passage of the car.
#[derive(Clone, Debug)]
pub struct Way {
    pub name: String,
    pub from: &'static str,
    pub to: &'static str,
    pub count: usize,
    pub elements: Vec<String>,
}

/// A car, ready to be written.
#[derive(Clone, Debug)]
pub struct Car {
    head: String,
    pub ways: Vec<Way>,
    condition: String,
}

struct Draw<'a> {
    dice: std::slice::Iter<'a, f64>,
    units: Units,
}

impl Draw<'_> {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.dice.next().copied().expect("enough dice")
    }

    fn yes(&mut self, share: f64) -> bool {
        self.between(0.0, 1.0) < share
    }

    fn write(&self, value: f64, metric: &str, per_imperial: f64, imperial: &str) -> String {
        match self.units {
            Units::Metric => format!("\"{value} {metric}\""),
            Units::Imperial => format!("\"{} {imperial}\"", value / per_imperial),
        }
    }

    fn area(&mut self, low: f64, high: f64) -> String {
        let value = self.between(low, high);
        self.write(value, "cm2", 6.4516, "in2")
    }

    fn pressure(&mut self, low: f64, high: f64) -> String {
        let value = self.between(low, high);
        self.write(value, "Pa", 249.0889, "inH2O")
    }

    fn flow(&mut self, low: f64, high: f64) -> String {
        let value = self.between(low, high);
        self.write(value, "kg/s", 0.453_592_37, "lb/s")
    }

    fn conductance(&mut self, low: f64, high: f64) -> String {
        let value = self.between(low, high);
        self.write(value, "W/K", 1_055.055_852_62 * 1.8 / 3600.0, "BTU/(h degF)")
    }

    fn temperature(&mut self, low: f64, high: f64) -> String {
        let value = self.between(low, high);
        match self.units {
            Units::Metric => format!("\"{value} degC\""),
            Units::Imperial => format!("\"{} degF\"", value * 1.8 + 32.0),
        }
    }

    fn fins(&mut self, part: &str, area: &str) -> String {
        format!(
            "{{ kind = \"fins\", part = \"{part}\", area = {area}, reference_flow = {}, conductance = {}, pressure_drop = {} }}",
            self.flow(0.1, 0.4),
            self.conductance(30.0, 120.0),
            self.pressure(100.0, 800.0)
        )
    }
}

impl Car {
    /// The car of these dice.
    pub fn new(dice: &Dice, units: Units) -> Car {
        let mut draw = Draw { dice: dice.0.iter(), units };
        let displacement = draw.write(874.0, "cm3", 16.387_064, "in3");
        let head = format!(
            r#"format = 1
[day]
temperature = {}
[engine]
displacement = {displacement}
power = [["1700 rpm", "9.1 kW"], ["4700 rpm", "30.5 kW"], ["6300 rpm", "33.4 kW"]]
[engine.heat]
heads = "10 %"
barrels = "7 %"
oil = "5 %"
bay = "2 %"
[part.heads]
limit = {}
bay_conductance = {}
chamber = "bay"
[part.barrels]
limit = {}
bay_conductance = {}
chamber = "bay"
[part.oil]
limit = {}
bay_conductance = {}
chamber = "bay"
[chamber.bay]
skin_conductance = {}
"#,
            draw.temperature(-10.0, 40.0),
            draw.temperature(190.0, 230.0),
            draw.conductance(1.0, 8.0),
            draw.temperature(160.0, 190.0),
            draw.conductance(1.0, 8.0),
            draw.temperature(100.0, 130.0),
            draw.conductance(1.0, 8.0),
            draw.conductance(0.0, 10.0),
        );
        let mut ways = Vec::new();
        let mut way = |name: &str, from, to, count, elements| {
            ways.push(Way { name: name.to_string(), from, to, count, elements });
        };
        let turn = ["off = true", "drive_ratio = 1.4", "speed = \"7000 rpm\"", "drive_ratio = 0.6"];
        let turn = turn[draw.between(0.0, 4.0) as usize % 4];
        let fan = format!(
            "{{ kind = \"fan\", area = {}, reference_speed = \"8000 rpm\", {turn}, curve = [[\"0 m3/s\", {}], [\"0.2 m3/s\", {}], [\"0.45 m3/s\", \"0 Pa\"]] }}",
            draw.area(120.0, 200.0),
            draw.pressure(1000.0, 2000.0),
            draw.pressure(500.0, 900.0)
        );
        let inlet = format!(
            "{{ kind = \"wall-inlet\", area = {}, pressure_coefficient = {} }}",
            draw.area(60.0, 200.0),
            draw.between(-0.3, 0.6)
        );
        let area = draw.area(120.0, 250.0);
        let barrels = draw.fins("barrels", &area);
        if draw.yes(0.4) {
            // through a plenum that also leaks into the bay
            way("fan", "outside", "plenum", 1, vec![inlet, fan]);
            way("barrels", "plenum", "bay", 1, vec![barrels]);
            let spilled = format!("{{ kind = \"loss\", area = {}, k = 2 }}", draw.area(5.0, 60.0));
            way("spill", "plenum", "bay", 1, vec![spilled]);
        } else {
            way("fan", "outside", "bay", 1, vec![inlet, fan, barrels]);
        }
        let area = draw.area(60.0, 150.0);
        let again = match draw.yes(0.25) {
            true => {
                let share = draw.between(0.0, 0.3);
                format!(", recirculation = {{ from = \"right exit\", share = {share} }}")
            }
            false => String::new(),
        };
        let heads = vec![
            format!(
                "{{ kind = \"ram-inlet\", area = {}, recovery = {}, edge = \"sharp\"{again} }}",
                draw.area(20.0, 90.0),
                draw.between(0.4, 1.0)
            ),
            draw.fins("heads", &area),
        ];
        way("heads", "outside", "bay", 1 + draw.between(0.0, 3.0) as usize % 3, heads);
        let mut oil = vec![
            format!("{{ kind = \"ram-inlet\", area = {}, recovery = 0.9 }}", draw.area(20.0, 90.0)),
            format!(
                "{{ kind = \"core\", part = \"oil\", area = {}, reference_flow = {}, conductance = {}, pressure_drop = {}, oil_flow = \"12 L/min\" }}",
                draw.area(200.0, 400.0),
                draw.flow(0.1, 0.3),
                draw.conductance(50.0, 150.0),
                draw.pressure(80.0, 400.0)
            ),
        ];
        if draw.yes(0.3) {
            oil.push(format!(
                "{{ kind = \"exit\", area = {}, pressure_coefficient = -0.1 }}",
                draw.area(40.0, 200.0)
            ));
            way("oil cooler", "outside", "outside", 1, oil);
        } else {
            way("oil cooler", "outside", "bay", 1, oil);
        }
        let from = if draw.yes(0.5) { "bay" } else { "outside" };
        let throat = draw.area(12.0, 40.0);
        let throat = match from {
            "bay" => format!("{{ kind = \"loss\", area = {throat}, k = 1.2 }}"),
            _ => format!("{{ kind = \"ram-inlet\", area = {throat}, recovery = 0.8 }}"),
        };
        way("carburettor", from, "engine", 1, vec![throat]);
        for name in ["left exit", "right exit"] {
            let exit = format!(
                "{{ kind = \"exit\", area = {}, discharge = 0.7, pressure_coefficient = {} }}",
                draw.area(20.0, 300.0),
                draw.between(-0.3, 0.15)
            );
            way(name, "bay", "outside", 1, vec![exit]);
        }
        let seams = format!("{{ kind = \"leak\", area = {} }}", draw.area(2.0, 30.0));
        way("seams", "bay", "outside", 1, vec![seams]);

        let standing = draw.yes(0.1);
        let speed = if standing { 0.0 } else { draw.between(0.0, 216.0) };
        let rpm = if draw.yes(0.15) { 0.0 } else { draw.between(1700.0, 6300.0) };
        let taped = if draw.yes(0.3) { draw.between(0.0, 90.0) } else { 0.0 };
        let condition = format!(
            "[[condition]]\nname = \"any\"\nspeed = {}\nrpm = \"{rpm} rpm\"\nload = {}\nclear_air = {}\ntaped = {{ \"oil cooler\" = \"{taped} %\" }}\n",
            draw.write(speed, "km/h", 1.609_344, "mph"),
            draw.between(0.02, 1.0),
            draw.between(0.5, 1.0)
        );
        Car { head, ways, condition }
    }

    /// Its case text.
    pub fn text(&self) -> String {
        let mut text = self.head.clone();
        for way in &self.ways {
            text.push_str(&format!(
                "[[passage]]\nname = \"{}\"\nfrom = \"{}\"\nto = \"{}\"\ncount = {}\nelement = [\n  {},\n]\n",
                way.name,
                way.from,
                way.to,
                way.count,
                way.elements.join(",\n  ")
            ));
        }
        text.push_str(&self.condition);
        text
    }
}
