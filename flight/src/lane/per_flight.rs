//! Numbers that belong to a flight and stay the same while it lasts.

/// Defines a record of `f64` that can be spread over the lanes of a block.
///
/// `Name<f64>` is one flight's record, `Name<Lane<S>>` a block's.
macro_rules! per_flight {
    (
        $(#[$about:meta])*
        $visibility:vis struct $name:ident {
            $( $(#[$about_field:meta])* $field:ident, )*
        }
    ) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq)]
        $visibility struct $name<T = f64> {
            $( $(#[$about_field])* $visibility $field: T, )*
        }

        impl $name<f64> {
            /// The same record for every flight of a block.
            #[inline(always)]
            $visibility fn spread<S: $crate::lane::Processor>(
                self,
                simd: S,
            ) -> $name<$crate::lane::Lane<S>> {
                $name { $( $field: $crate::lane::Lane::splat(simd, self.$field), )* }
            }

            /// Puts this record in one flight's place.
            #[inline(always)]
            $visibility fn put<S: $crate::lane::Processor>(
                self,
                lanes: &mut $name<$crate::lane::Lane<S>>,
                lane: usize,
            ) {
                $( lanes.$field.set(lane, self.$field); )*
            }
        }
    };
}
pub(crate) use per_flight;
