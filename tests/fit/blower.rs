//! Readings beside a blower: what they tell with its air known, and what the ratio of two of them tells without.

use crate::fit::support::{fitted, score, spaces};
use slowcorner::case::load;
use slowcorner::point::{Model, Operation, PointSolver};
use slowcorner::study::fit::result::Fit;

/// Two spaces in a row; how the loss between them stands is guessed.
const SPACES: &str = r#"[body]
leaks = "0 %"
hot_air_at_rest = "0 %"
hot_air_moving = "0 %"
[chamber.shroud]
skin_conductance = "0 W/K"
[chamber.bay]
skin_conductance = "0 W/K"
[[passage]]
name = "scoop"
from = "outside"
to = "shroud"
element = [{ kind = "wall-inlet", area = "70 cm2", pressure_coefficient = 0, entry_loss = 0.5 }]
[[passage]]
name = "grid"
from = "shroud"
to = "bay"
element = [{ kind = "loss", area = "90 cm2", k = "3 ± 2" }]
[[passage]]
name = "tail"
from = "bay"
to = "outside"
element = [{ kind = "exit", area = "120 cm2", discharge = 0.6, pressure_coefficient = 0 }]
"#;
const K: &str = "passage/grid/loss/k";
const FLOW: f64 = 0.15;

/// What gauges show with K = 4.5 between the spaces and 0.15 kg/s: across it, and of the bay over the outside (Pa).
fn truth() -> [f64; 2] {
    let case = load(&spaces(SPACES).replace("\"3 ± 2\"", "4.5"), &[]).expect("a sound case").case;
    let model = Model::new(&case).expect("a model");
    let mut operation = Operation::at_speed(&case, 0.0, 0.0, 0.0);
    operation.fans_off();
    operation.blower = Some((0, FLOW));
    let mut runner = PointSolver::new(&model);
    runner.prepare(&model, &operation);
    runner.solve().expect("solved");
    let pressure = |name: &str| runner.state.pressure(case.chamber(name).expect("a space"));
    [pressure("shroud") - pressure("bay"), pressure("bay")]
}

fn read(blower: &str, readings: usize) -> (Fit, slowcorner::study::fit::FittedLeft) {
    let [across, bay] = truth();
    let both = [
        format!("{{ between = [\"shroud\", \"bay\"], shows = \"{across:.3} Pa ± 0.5 Pa\" }}"),
        format!("{{ between = [\"bay\", \"still air\"], shows = \"{bay:.3} Pa ± 0.5 Pa\" }}"),
    ];
    fitted(
        &spaces(SPACES),
        &format!(
            "format = 1\n[model_error]\npressures = \"2 %\"\n[[test]]\nname = \"a blower\"\non = \"bench\"\nblower = {{ {blower} }}\nreading = [{}]\n",
            both[..readings].join(", ")
        ),
    )
}

/// Both pressures at one setting: their ratio tells K, since Δp = (K + 1) ½ρV² between and ½ρ(V/C)² behind, whatever the blower
/// gives. What it gives is found too.
#[test]
fn a_ratio_tells_what_the_blower_does_not_hang_on() {
    let (fit, left) = read("into = \"scoop\"", 2);
    let (mean, spread) = score(&left, K);
    let wanted = (4.5 - 3.0) / (2.0 / crate::fit::support::NINE_IN_TEN);
    assert!((mean - wanted).abs() < 0.25, "{mean} for {wanted}");
    // two pressures known to 2 % each: their ratio to 2.8 %, (K + 1) with it, 0.155 of 2
    let exact = 0.028 * 5.5 / 2.0;
    assert!(spread > 0.6 * exact && spread < 1.6 * exact, "{spread} for about {exact}");
    let flow = fit.moved.iter().find(|row| row.addresses[0] == "test/a blower/blower").expect("the blower");
    let found: f64 = flow.after[0].split(' ').next().and_then(|text| text.parse().ok()).expect("a number");
    let found =
        if flow.after[0].contains("g/s") && !flow.after[0].contains("kg/s") { 1e-3 * found } else { found };
    assert!((found / FLOW - 1.0).abs() < 0.03, "{:?}", flow.after);
    // and what not knowing it costs is said
    let told = fit.ratios_only.iter().map(|one| (one.test.as_str(), one.pressures)).collect::<Vec<_>>();
    assert_eq!(told, [("a blower", 2)]);
    assert!(read("into = \"scoop\", flow = \"0.15 kg/s\"", 2).0.ratios_only.is_empty());
}

/// One pressure beside a blower that nobody knows is refused; with a bellmouth before the blower it tells.
#[test]
fn one_pressure_wants_the_blower_known() {
    let spread = |blower: &str| {
        let (fit, left) = read(blower, 1);
        fit.moved.iter().find(|row| row.addresses[0] == K).map_or(1.0, |_| score(&left, K).1)
    };
    // 80 mm, C 0.97, 1.184 kg/m³: 0.15 kg/s at 400 Pa
    let area = 0.25 * std::f64::consts::PI * 0.08_f64.powi(2);
    let shows = (FLOW / (0.97 * area)).powi(2) / (2.0 * 1.184);
    let meter = format!(
        "into = \"scoop\", meter = {{ throat = \"80 mm\", discharge = \"0.97 ± 0.01\", shows = \"{shows:.1} Pa ± 5 Pa\" }}"
    );
    let known = spread(&meter);
    assert!(known < 0.25, "{known}");
    // the same as a flow, and as a volume
    let flow = spread("into = \"scoop\", flow = \"0.15 kg/s ± 2 %\"");
    assert!(flow < 0.25 && (flow - known).abs() < 0.1, "{flow} and {known}");
    let volume = spread("into = \"scoop\", flow = \"456 m3/h ± 2 %\"");
    assert!((volume - flow).abs() < 0.05, "{volume} and {flow}");
}
