//! Figures a builder meets in talk, worked out by hand; the crate must give the same.

use crate::published::support::{below, dry_air, within, within_share};
use slowcorner::correlations::{discharge, jet};
use slowcorner::element::PieceSize;
use slowcorner::element::size::equivalent_diameter;

/// Air of 1.2 kg/m³, the round figure behind most rules: dry, 20 °C, 1010 hPa.
fn round_air() -> slowcorner::air::Air {
    let air = dry_air(1.2 * 287.052874 * 293.15, 293.15);
    within("density", air.density(), 1.2, 1e-12);
    air
}

#[test]
fn ram_pressure() {
    // Computed, ½ρV² at 1.2 kg/m3: 74, 167, 463 and 1500 Pa at 40, 60, 100 and 180 km/h. The
    // crate adds the compression of M²/4: 0.5 % at 180 km/h.
    // Worked out by hand.
    // Allowed: half a pascal of rounding; 0.7 % where compression is in it.
    let air = round_air();
    for (speed, pascal) in [(40.0, 74.0), (60.0, 167.0), (100.0, 463.0), (180.0, 1500.0)] {
        let speed: f64 = speed / 3.6;
        let mach = speed / air.speed_of_sound();
        let incompressible = air.dynamic_pressure(speed) / (1.0 + mach * mach / 4.0);
        within("Pa", incompressible, pascal, 0.5);
        within_share("Pa", air.dynamic_pressure(speed), pascal, 0.007);
    }
}

#[test]
fn compression_ahead_of_a_fast_car() {
    // The isentropic relation in full: p₀ − p = p [(1 + 0.2 M²)^3.5 − 1].
    // Exact.
    // Allowed: 1e-4, the next term of the series at 80 m/s; 0.2 % on the heating for c_p.
    let air = round_air();
    for speed in [20.0, 50.0, 80.0] {
        let mach: f64 = speed / air.speed_of_sound();
        let exact = air.pressure * ((1.0 + 0.2 * mach * mach).powf(3.5) - 1.0);
        within_share("Pa", air.dynamic_pressure(speed), exact, 1e-4);
        // Isentropic heating goes with the same Mach number; c_p is 1006 and not 3.5 R = 1004.7.
        let rise = air.total_temperature(speed) - air.temperature;
        within_share("K", rise, 0.2 * mach * mach * air.temperature, 2e-3);
    }
}

#[test]
fn momentum_drag() {
    // Computed: 0.8 kg/s, 50 m/s, six tenths of the ram pressure used up, no heat: the jet leaves
    // at 31.6228 m/s, 14.7018 N.
    // Worked out by hand.
    // Allowed: half of the last digit.
    let ram = 0.5 * 1.2 * 50.0 * 50.0;
    let speed = jet::expanded_speed(0.4 * ram, 1.2);
    within("m/s", speed, 31.6228, 0.5e-4);
    within("N", 0.8 * (50.0 - speed), 14.7018, 0.5e-4);
    within("below the ambient pressure, m/s", jet::expanded_speed(-20.0, 1.2), 0.0, 0.0);
}

#[test]
fn heat_turned_to_thrust() {
    // No drag where Δp/q = 1 − T₁/T₂: the lighter jet needs less pressure for the same speed.
    // Exact; the share worked out by hand.
    // Allowed: rounding; half of the last digit of 0.41 %.
    let air = round_air();
    let heated = 350.0;
    let used = 1.0 - air.temperature / heated;
    let ram = 0.5 * air.density() * 50.0 * 50.0;
    let speed = jet::expanded_speed((1.0 - used) * ram, air.density_at(heated));
    within("N", 0.8 * (50.0 - speed), 0.0, 1e-9);
    // Best share of the heat, V²/(2 c_p T): 0.41 % at 50 m/s (computed; T 300 K).
    let warm = dry_air(101_325.0, 300.0);
    let share = (warm.total_temperature(50.0) - 300.0) / 300.0;
    within("%", 100.0 * share, 0.41, 0.005);
}

#[test]
fn sharp_and_rounded_edge_of_a_hand_cut_exit() {
    // Computed: 0.6 m3/s of hot air (80 °C, 1.0 kg/m3) through 300 cm2 cost 474 Pa with C_d 0.65
    // and 222 Pa with 0.95. The temperature is inferred; it is good to 0.3 %.
    // Worked out by hand.
    // Allowed: 0.3 %, the temperature inferred; 0.5 % on a difference of two.
    let speed = 0.6 / 0.0300;
    let density = dry_air(101_325.0, 293.15).density_at(353.15);
    let head = 0.5 * density * speed * speed;
    within_share("sharp", discharge::with_last_head(0.65) * head, 474.0, 3e-3);
    within_share("rounded", discharge::with_last_head(0.95) * head, 222.0, 3e-3);
    let dearer = discharge::before_last_head(0.65) - discharge::before_last_head(0.95);
    within_share("difference", dearer * head, 474.0 - 222.0, 5e-3);
}

#[test]
fn air_for_a_hundred_kilowatts() {
    // Computed: 100 kW at 25 % brake efficiency, 15 % of the fuel's heat to the air, 60 K rise:
    // 0.99 kg/s. Common practice says 0.012 to 0.03 kg/s for each kW of brake power (no source).
    // Worked out by hand.
    // Allowed: half of the last digit; moist air must carry at least 2 % more.
    let heat = 0.15 * 100e3 / 0.25;
    let flow = heat / (dry_air(101_325.0, 300.0).heat_capacity * 60.0);
    within("kg/s", flow, 0.99, 0.005);
    let humid = slowcorner::air::Air::new(101_325.0, 308.15, 0.0, 0.9);
    // Moist air carries more, by 2.5 % on a sultry day.
    below("moist over dry", heat / (humid.heat_capacity * 60.0) / flow, 0.98);
}

#[test]
fn warm_air_needs_a_larger_exit() {
    // Computed: 30 to 80 K of heating alone explain an exit 1.10 to 1.26 times the inlet at equal
    // speed (air of about 31 °C).
    // Worked out by hand.
    // Allowed: half of the last digit.
    let day = dry_air(101_325.0, 304.15);
    for (rise, ratio) in [(30.0, 1.10), (80.0, 1.26)] {
        let ours = day.density() / day.density_at(day.temperature + rise);
        within("area ratio", ours, ratio, 0.005);
    }
}

#[test]
fn cut_a_millimetre_too_large() {
    // Computed: 150 × 60 mm cut 1 mm too large all round has 4.7 % more area.
    // Worked out by hand.
    // Allowed: half of the last digit.
    let area = |width: f64, height: f64| PieceSize::of_rectangle(width, height).area;
    let (drawn, cut) = (area(0.150, 0.060), area(0.152, 0.062));
    within("%", 100.0 * (cut / drawn - 1.0), 4.7, 0.05);
    // A slot of that shape has a hydraulic diameter of 86 mm, its circle of equal area 107 mm.
    let hydraulic = PieceSize::of_rectangle(0.150, 0.060).hydraulic_diameter;
    within("mm", 1e3 * hydraulic, 85.7, 0.05);
    within("mm", 1e3 * equivalent_diameter(drawn), 107.05, 0.05);
}
