//! Drag of flat faces square to the flow.

/// Drag coefficient of a thin flat face square to the flow, on its area, by
/// its aspect ratio (longer over shorter side, >= 1).
///
/// Fit by us, 1.15 + 0.83 a²/(a² + 525), through 1.15 for the square
/// (Holmes, Letchford & Lin 2006, from memory) and 1.98 for the long strip
/// (Matthews, Aeronautical Engineer's Data Book, p. 95), shaped by Hoerner's
/// row (from memory): within 0.04 of it.
#[must_use]
pub(super) fn thin_face(aspect: f64) -> f64 {
    1.15 + 0.83 * aspect * aspect / (aspect * aspect + 525.0)
}

/// Drag coefficient of the face of a block, square to the flow, on its area:
/// `sides` across the flow and `depth` along it, in m.
///
/// Fit by us: a deep body recovers pressure behind; from the thin face at
/// depth 0 over 1.05 at the cube to about 0.87 at the long prism, for a square
/// face (0.85 to 0.91 are measured for cylinders end-on, Matthews p. 95);
/// scaled for other aspects like the thin face.
#[must_use]
pub(super) fn deep_face(sides: [f64; 2], depth: f64) -> f64 {
    let [a, b] = sides;
    let relative = depth / (a * b).sqrt();
    let square = 0.87 + 0.28 / (1.0 + 0.55 * relative * relative);
    square * thin_face(a.max(b) / a.min(b)) / thin_face(1.0)
}

/// Length over diameter of a cylinder, and its drag end-on.
///
/// Source: disc 1.17 (Hoerner); 0.91, 0.85, 0.87, 0.99 (Matthews, Aeronautical
/// Engineer's Data Book, p. 95).
const ENDS: [[f64; 2]; 5] = [[0.0, 1.17], [1.0, 0.91], [2.0, 0.85], [4.0, 0.87], [7.0, 0.99]];

/// Drag coefficient of a round body end-on, on the area of its end, by its
/// length over diameter: straight lines between the handbook's rows, constant
/// beyond.
#[must_use]
pub(super) fn round_end(slenderness: f64) -> f64 {
    let [.., last] = ENDS;
    if slenderness >= last[0] {
        return last[1];
    }
    let i = ENDS.partition_point(|row| row[0] <= slenderness).max(1) - 1;
    let ([a, low], [b, high]) = (ENDS[i], ENDS[i + 1]);
    low + (high - low) * (slenderness - a) / (b - a)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: Matthews p. 95; Hoerner's cylinder end-on above L/d 2, 0.81, is
    /// within 10 % of it to L/d 4.
    #[test]
    fn round_ends_follow_the_handbook() {
        for [slenderness, wanted] in ENDS {
            assert!((round_end(slenderness) - wanted).abs() < 1e-12);
        }
        assert!((round_end(0.5) - 1.04).abs() < 1e-12);
        assert!((round_end(3.0) / 0.81 - 1.0).abs() < 0.1);
        assert!((round_end(50.0) - 0.99).abs() < 1e-12);
    }

    /// Source: Hoerner's row b/h 1, 5, 10, 20, infinity: 1.18, 1.2, 1.3, 1.5,
    /// 2.0 (from memory); Matthews p. 95: 1.17 square, 1.98 long.
    #[test]
    fn thin_faces_follow_the_handbooks() {
        let row = [(1.0, 1.18), (5.0, 1.2), (10.0, 1.3), (20.0, 1.5), (1e9, 2.0)];
        for (aspect, wanted) in row {
            assert!((thin_face(aspect) - wanted).abs() < 0.04, "{aspect}");
        }
    }

    /// Source: cube face-on 1.05 to 1.07 (Hoerner); cylinder end-on 0.81 to
    /// 0.99 for L/d 1 to 7 (Hoerner, Matthews p. 95).
    #[test]
    fn deep_faces_follow_the_handbooks() {
        assert!((deep_face([1.0, 1.0], 1.0) - 1.05).abs() < 0.02);
        assert!((deep_face([1.0, 1.0], 4.0) - 0.88).abs() < 0.07);
        assert!((deep_face([1.0, 1.0], 0.0) - 1.15).abs() < 1e-12);
    }
}
