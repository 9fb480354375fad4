//! What a strike means for whoever or whatever is struck, in words.

use crate::{
    engine::Measure,
    harm::{
        Quantity,
        head::{Curve, Head, injury_chance},
    },
    quantity::{Dimension, format, significant},
    release::collide,
    scenario::Scenario,
    words::Spoken,
};

/// Below this, in m/s, what is struck is hardly moved (judgement).
const HARDLY: f64 = 1.0;

/// The head injury criterion of the middle of what arrives, and the chances that
/// both published families of curves give it; `None` for other criteria, and
/// where nothing arrives.
pub(super) fn head(scenario: &Scenario, middle: &[f64], arriving: &Measure) -> Option<String> {
    let Quantity::HeadHic { pulse, lasts, head, restitution } = scenario.harm.quantity else {
        return None;
    };
    let (lasts, mass) = (middle[lasts.0], middle[head.0]);
    let head = Head { mass, pulse, lasts, restitution: middle[restitution.0] };
    let object = middle[scenario.object.mass.0];
    let energy = arriving.quantile(0.5).filter(|energy| *energy > 0.0)?;
    let hic = head.hic15(object, (2.0 * energy / object).sqrt());
    let chance =
        |curve, severity| injury_chance(hic, severity, curve).map_or(Spoken::Unknown, Spoken::near);
    let [lognormal, logistic] =
        [Curve::Lognormal, Curve::Logistic].map(|curve| [2, 3, 4].map(|n| chance(curve, n)));
    Some(format!(
        "The middle of what arrives gives a head of {} a HIC15 of {} in an assumed pulse of {}. The \
         published curves make of that an injury of AIS 2, 3, 4 or worse with {}, {}, {} (NHTSA, \
         lognormal) or {}, {}, {} (Prasad and Mertz, logistic, expanded; AIS 4 from memory): adults \
         in car collisions, and the two families differ by a factor of two and more",
        format(mass, Dimension::Mass, scenario.show),
        significant(hic, 2),
        format(lasts, Dimension::Time, scenario.show),
        lognormal[0],
        lognormal[1],
        lognormal[2],
        logistic[0],
        logistic[1],
        logistic[2],
    ))
}

/// What a strike does to the speed of a target of known mass; `None` where
/// nobody told its mass, and where nothing strikes.
///
/// Source: conservation of momentum; that a thrown object's push does not hurt
/// who rides in the target is plain from its size.
pub(super) fn moved(scenario: &Scenario, middle: &[f64], speed: &Measure) -> Option<String> {
    let mass = middle[scenario.target.mass?.0];
    let object = middle[scenario.object.mass.0];
    let given = |share: f64| {
        let closing = speed.quantile(share)?;
        Some(collide([object, mass], [closing, 0.0], 0.0).after[1])
    };
    let [low, half, high] = [given(0.05)?, given(0.5)?, given(0.95)?];
    let say = |value: f64| format(value, Dimension::Speed, scenario.show);
    let meaning = if high < HARDLY {
        ": not what hurts whoever is inside; what comes through would"
    } else {
        ""
    };
    Some(format!(
        "A strike changes the speed of what is struck ({}) by {} (90 % between {} and {}) if the object \
         stays with it, at most twice that if it springs back{meaning}.",
        format(mass, Dimension::Mass, scenario.show),
        say(half),
        say(low),
        say(high),
    ))
}
