//! What a body looks like.

/// A side of a shape, as a scenario tells it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    /// What it is called.
    pub key: &'static str,
    /// What it measures.
    pub measure: Measure,
    /// What it is of an everyday example, in m or 0..1.
    pub example: f64,
}

/// What a side of a shape measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// A length, in m.
    Length,
    /// A share, 0..1.
    Ratio,
}

/// The shapes with their sides, each with an everyday example: the enum, and what
/// follows from the names alone.
macro_rules! shapes {
    ($(
        $(#[$about:meta])*
        $Name:ident $word:literal, $mass:literal kg {
            $( $(#[$told:meta])* $side:ident: $measure:ident = $example:literal, )*
        }
    )*) => {
        /// A shape, with its lengths as `T`: an input's place in a scenario,
        /// metres in a body, what they are called in [`Shape::ALL`].
        #[derive(Clone, Copy, Debug, PartialEq)]
        pub enum Shape<T> {
            $( $(#[$about])* $Name { $( $(#[$told])* $side: T, )* }, )*
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
                    $( Self::$Name { $( $side, )* } => Shape::$Name { $( $side: f($side), )* }, )*
                    Self::Custom { sides, reference, gyration } => Shape::Custom {
                        sides: sides.map(&mut f),
                        reference: reference.map(&mut f),
                        gyration: gyration.map(|radii| radii.map(&mut f)),
                    },
                }
            }
        }

        impl<T> Shape<T> {
            /// The word for this family in a scenario, a table or a sentence.
            #[must_use]
            pub fn name(&self) -> &'static str {
                match self {
                    $( Self::$Name { .. } => $word, )*
                    Self::Custom { .. } => "custom",
                }
            }
        }

        impl Shape<Side> {
            /// Every shape that has coefficients of its own, with the sides that a
            /// scenario tells; all but [`Shape::Custom`].
            pub const ALL: &'static [Self] = &[ $( Self::$Name { $(
                $side: Side {
                    key: stringify!($side),
                    measure: Measure::$measure,
                    example: $example,
                },
            )* }, )* ];
            /// Masses of the examples, in kg.
            const MASSES: &'static [f64] = &[ $( $mass, )* ];
        }
    };
}

shapes! {
    /// A ball.
    Sphere "sphere", 0.145 kg {
        /// Diameter, in m.
        diameter: Length = 0.0732,
    }
    /// A compact lump that is neither long nor flat.
    Irregular "irregular", 0.17 kg {
        /// Diameter of the ball of the same volume, in m.
        diameter: Length = 0.05,
        /// Surface of that ball over the lump's own (Wadell), 0..1.
        sphericity: Ratio = 0.8,
    }
    /// A flat rectangular sheet: length along x, width along y.
    Plate "plate", 6.0 kg {
        /// Longer side, in m.
        length: Length = 1.2,
        /// Shorter side, in m.
        width: Length = 0.6,
        /// Thickness, in m.
        thickness: Length = 0.012,
    }
    /// A flat round sheet across z.
    Disc "disc", 2.2 kg {
        /// Diameter, in m.
        diameter: Length = 0.5,
        /// Thickness, in m.
        thickness: Length = 0.018,
    }
    /// A wheel or a tyre, its axle along z.
    Wheel "wheel", 18.0 kg {
        /// Diameter, in m.
        diameter: Length = 0.64,
        /// Width along the axle, in m.
        width: Length = 0.2,
        /// Share of the diameter inside which there is next to no mass, 0..1.
        hub: Ratio = 0.5,
    }
    /// A slender round bar along x.
    Rod "rod", 4.1 kg {
        /// Length, in m.
        length: Length = 2.4,
        /// Diameter, in m.
        diameter: Length = 0.06,
    }
    /// A round solid along x that need not be slender.
    Cylinder "cylinder", 16.0 kg {
        /// Length, in m.
        length: Length = 0.4,
        /// Diameter, in m.
        diameter: Length = 0.3,
    }
    /// A round solid cone along x, its apex forward.
    Cone "cone", 9.0 kg {
        /// Height from base to apex, in m.
        length: Length = 0.7,
        /// Diameter of the base, in m.
        diameter: Length = 0.36,
    }
    /// A pipe along x, open at both ends.
    Tube "tube", 5.0 kg {
        /// Length, in m.
        length: Length = 1.5,
        /// Outer diameter, in m.
        diameter: Length = 0.09,
        /// Thickness of its wall, in m.
        wall: Length = 0.004,
    }
    /// A rectangular block.
    Block "block", 4.0 kg {
        /// Extent along x, in m.
        length: Length = 0.3,
        /// Extent along y, in m.
        width: Length = 0.2,
        /// Extent along z, in m.
        height: Length = 0.1,
    }
    /// A bar of rectangular section, its length along x.
    Bar "bar", 2.0 kg {
        /// Length, in m.
        length: Length = 1.2,
        /// Extent of the section along y, in m.
        width: Length = 0.09,
        /// Extent of the section along z, in m.
        height: Length = 0.04,
    }
}

impl Shape<f64> {
    /// An everyday example of every shape but the custom one, with its mass in kg.
    pub fn examples() -> impl Iterator<Item = (Self, f64)> {
        let masses = Shape::<Side>::MASSES.iter().copied();
        Shape::ALL.iter().map(|shape| shape.map(|side| side.example)).zip(masses)
    }
}
