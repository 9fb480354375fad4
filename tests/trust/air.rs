//! Density, viscosity and sound of air; the standard atmosphere; mean wind and
//! gusts.

use super::row::{Kind, Row, Said, Tolerance};
use longodds_sim::world::{Air, Height, MeanWind, Terrain, Turbulence, standard_atmosphere};

pub(super) fn rows() -> Vec<Row> {
    let mut rows = density();
    rows.extend(standard());
    rows.extend(wind());
    rows.extend(gusts());
    rows
}

fn density() -> Vec<Row> {
    let said = Said {
        model: "air",
        source: "CIPM-2007: Picard, Davis, Glaeser & Fujii, Metrologia 45 (2008) 149, its equations",
        kind: Kind::SecondHand,
        unit: "kg/m³",
        tolerance: Tolerance::Share(1e-3),
        range: "-10 to 35 °C, 600 to 1100 hPa",
    };
    let table = [
        (20.0, 101_325.0, 0.5, 1.199_313_9),
        (20.0, 101_325.0, 0.0, 1.204_557_34),
        (15.0, 101_325.0, 0.0, 1.225_521_34),
        (27.0, 100_000.0, 1.0, 1.145_413_03),
        (20.0, 75_000.0, 0.5, 0.886_276_595),
    ];
    table
        .into_iter()
        .map(|(celsius, pressure, humidity, published)| {
            let ours = Air::moist(celsius + 273.15, pressure, humidity).density;
            let claim = format!(
                "density at {celsius} °C, {} hPa, {} % humid",
                pressure / 100.0,
                100.0 * humidity
            );
            said.row(claim, published, ours)
        })
        .collect()
}

fn standard() -> Vec<Row> {
    let said = |unit| Said {
        model: "air",
        source: "US Standard Atmosphere 1976 as Mechanical Engineers' Handbook, vol. 4, table 6, prints it",
        kind: Kind::Read,
        unit,
        // The table has four digits.
        tolerance: Tolerance::Share(3e-4),
        range: "0 to 32 km",
    };
    let table = [
        (0.0, [288.15, 101_330.0, 1.2250, 340.3]),
        (1000.0, [281.65, 89_880.0, 1.1117, 336.4]),
        (3000.0, [268.66, 70_120.0, 0.9093, 328.6]),
        (5000.0, [255.68, 54_050.0, 0.7364, 320.6]),
        (8000.0, [236.22, 35_650.0, 0.5258, 308.1]),
        (12_000.0, [216.65, 19_400.0, 0.3119, 295.1]),
    ];
    let mut rows = Vec::new();
    for (height, [kelvin, pascal, density, sound]) in table {
        let (air, temperature, pressure) = standard_atmosphere(Height::Geometric(height)).unwrap();
        rows.push(said("K").row(format!("temperature at {height} m"), kelvin, temperature));
        rows.push(said("Pa").row(format!("pressure at {height} m"), pascal, pressure));
        rows.push(said("kg/m³").row(format!("density at {height} m"), density, air.density));
        rows.push(said("m/s").row(format!("speed of sound at {height} m"), sound, air.sound));
    }
    rows.extend(computed());
    rows
}

/// Where tables have too few digits.
fn computed() -> Vec<Row> {
    let said = |unit| Said {
        model: "air",
        source: "US Standard Atmosphere 1976 by the library fluids 1.3, geometric height",
        kind: Kind::Library,
        unit,
        tolerance: Tolerance::Share(1e-5),
        range: "0 to 32 km",
    };
    let table = [
        (0.0, 101_325.0, 1.224_999_156, 1.789_380_278e-5),
        (2000.0, 79_501.424_642, 1.006_553_217, 1.725_981_622e-5),
        (5000.0, 54_048.286_146, 0.736_428_421, 1.628_248_135e-5),
        (15_000.0, 12_111.825_698, 0.194_755_046, 1.421_613_080e-5),
        (25_000.0, 2_549.222_993, 0.040_083_886_7, 1.448_424_467e-5),
    ];
    let mut rows = Vec::new();
    for (height, pascal, density, viscosity) in table {
        let (air, _, pressure) = standard_atmosphere(Height::Geometric(height)).unwrap();
        let at = |what: &str| format!("{what} at {height} m, by computation");
        rows.push(said("Pa").row(at("pressure"), pascal, pressure));
        rows.push(said("kg/m³").row(at("density"), density, air.density));
        rows.push(said("Pa s").row(at("viscosity"), viscosity, air.viscosity));
    }
    rows
}

fn wind() -> Vec<Row> {
    let said = Said {
        model: "wind",
        source: "EN 1991-1-4, 4.3.2: ln(z/z0)/ln(10/z0) with the roughness lengths of table 4.1, by hand",
        kind: Kind::SecondHand,
        unit: "times the speed at 10 m",
        tolerance: Tolerance::By(5e-4),
        range: "up to 200 m, level open ground of the kind upwind",
    };
    // ln(2/0.05)/ln(10/0.05), ln(30/0.05)/ln(10/0.05), ln(30/0.3)/ln(10/0.3).
    let table = [
        ("open country at 2 m", Terrain::Open, 2.0, 0.6962),
        ("open country at 30 m", Terrain::Open, 30.0, 1.2073),
        ("suburb at 30 m", Terrain::Suburb, 30.0, 1.3133),
    ];
    table
        .into_iter()
        .map(|(what, terrain, height, published)| {
            let ours = MeanWind::new(1.0, 0.0, 10.0, terrain).at(height)[0];
            said.row(format!("mean wind over {what}"), published, ours)
        })
        .collect()
}

fn gusts() -> Vec<Row> {
    let said = Said {
        model: "gusts",
        source: "EN 1991-1-4, 4.4: turbulence intensity 1/ln(z/z0), by hand",
        kind: Kind::SecondHand,
        unit: "share of the mean",
        tolerance: Tolerance::By(5e-4),
        range: "up to 200 m",
    };
    let table = [
        ("open country at 10 m", Terrain::Open, 10.0, 0.1887),
        ("suburb at 10 m", Terrain::Suburb, 10.0, 0.2852),
    ];
    table
        .into_iter()
        .map(|(what, terrain, height, published)| {
            let ours = Turbulence::over(terrain, height).unwrap().intensity;
            said.row(format!("gusts over {what}"), published, ours)
        })
        .collect()
}
