//! What a body looks like.

/// A shape, with its lengths as `T`: an input's place in a scenario, metres in
/// a body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape<T> {
    /// A ball.
    Sphere {
        /// Diameter, in m.
        diameter: T,
    },
    /// A compact lump that is neither long nor flat.
    Irregular {
        /// Diameter of the ball of the same volume, in m.
        diameter: T,
        /// Surface of that ball over the lump's own (Wadell), 0..1.
        sphericity: T,
    },
    /// A flat rectangular sheet: length along x, width along y.
    Plate {
        /// Longer side, in m.
        length: T,
        /// Shorter side, in m.
        width: T,
        /// Thickness, in m.
        thickness: T,
    },
    /// A flat round sheet across z.
    Disc {
        /// Diameter, in m.
        diameter: T,
        /// Thickness, in m.
        thickness: T,
    },
    /// A wheel or a tyre, its axle along z.
    Wheel {
        /// Diameter, in m.
        diameter: T,
        /// Width along the axle, in m.
        width: T,
        /// Share of the diameter inside which there is next to no mass, 0..1.
        hub: T,
    },
    /// A slender round bar along x.
    Rod {
        /// Length, in m.
        length: T,
        /// Diameter, in m.
        diameter: T,
    },
    /// A round solid along x that need not be slender.
    Cylinder {
        /// Length, in m.
        length: T,
        /// Diameter, in m.
        diameter: T,
    },
    /// A pipe along x, open at both ends.
    Tube {
        /// Length, in m.
        length: T,
        /// Outer diameter, in m.
        diameter: T,
        /// Thickness of its wall, in m.
        wall: T,
    },
    /// A round solid cone along x, its apex forward.
    Cone {
        /// Height from base to apex, in m.
        length: T,
        /// Diameter of the base, in m.
        diameter: T,
    },
    /// A rectangular block.
    Block {
        /// Extent along x, in m.
        length: T,
        /// Extent along y, in m.
        width: T,
        /// Extent along z, in m.
        height: T,
    },
    /// A bar of rectangular section, its length along x.
    Bar {
        /// Length, in m.
        length: T,
        /// Extent of the section along y, in m.
        width: T,
        /// Extent of the section along z, in m.
        height: T,
    },
    /// Whatever a table of coefficients describes; it touches as its box.
    Custom {
        /// Extents along x, y, z, in m.
        sides: [T; 3],
        /// What the coefficients refer to: area in m², length in m.
        reference: [T; 2],
        /// Radii of gyration about x, y, z, in m; `None`: those of the box.
        gyration: Option<[T; 3]>,
    },
}

impl<T: Copy> Shape<T> {
    /// The same shape with every length passed through `f`.
    #[must_use]
    pub fn map<U>(self, mut f: impl FnMut(T) -> U) -> Shape<U> {
        match self {
            Self::Sphere { diameter } => Shape::Sphere { diameter: f(diameter) },
            Self::Irregular { diameter, sphericity } => {
                Shape::Irregular { diameter: f(diameter), sphericity: f(sphericity) }
            }
            Self::Plate { length, width, thickness } => {
                Shape::Plate { length: f(length), width: f(width), thickness: f(thickness) }
            }
            Self::Disc { diameter, thickness } => {
                Shape::Disc { diameter: f(diameter), thickness: f(thickness) }
            }
            Self::Wheel { diameter, width, hub } => {
                Shape::Wheel { diameter: f(diameter), width: f(width), hub: f(hub) }
            }
            Self::Rod { length, diameter } => {
                Shape::Rod { length: f(length), diameter: f(diameter) }
            }
            Self::Cylinder { length, diameter } => {
                Shape::Cylinder { length: f(length), diameter: f(diameter) }
            }
            Self::Tube { length, diameter, wall } => {
                Shape::Tube { length: f(length), diameter: f(diameter), wall: f(wall) }
            }
            Self::Cone { length, diameter } => {
                Shape::Cone { length: f(length), diameter: f(diameter) }
            }
            Self::Block { length, width, height } => {
                Shape::Block { length: f(length), width: f(width), height: f(height) }
            }
            Self::Bar { length, width, height } => {
                Shape::Bar { length: f(length), width: f(width), height: f(height) }
            }
            Self::Custom { sides, reference, gyration } => Shape::Custom {
                sides: sides.map(&mut f),
                reference: reference.map(&mut f),
                gyration: gyration.map(|radii| radii.map(&mut f)),
            },
        }
    }

    /// The word for this family in a scenario, a table or a sentence.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Self::Sphere { .. } => "sphere",
            Self::Irregular { .. } => "irregular",
            Self::Plate { .. } => "plate",
            Self::Disc { .. } => "disc",
            Self::Wheel { .. } => "wheel",
            Self::Rod { .. } => "rod",
            Self::Cylinder { .. } => "cylinder",
            Self::Tube { .. } => "tube",
            Self::Cone { .. } => "cone",
            Self::Block { .. } => "block",
            Self::Bar { .. } => "bar",
            Self::Custom { .. } => "custom",
        }
    }

    /// What to call the object in a sentence.
    #[must_use]
    pub fn noun(&self) -> &'static str {
        match self {
            Self::Irregular { .. } => "lump",
            Self::Custom { .. } => "object",
            _ => self.name(),
        }
    }
}
