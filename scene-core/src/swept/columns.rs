//! The volume of a union of convex solids, as a bracket, column by column.
//!
//! Over each cell of a grid, the corners of the cell bound where a column enters and leaves the half-spaces of a solid,
//! because a linear function has its extremes there. The high end adds up the part of each column that some point of
//! its cell has inside the union; the low end adds up the part that every point of the cell has inside one solid.

use super::slice::ConvexSolid;
use crate::solid::Extent;
use glam::DVec3;

/// The direction of the columns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Along {
    X,
    Y,
    Z,
}

impl Along {
    pub const ALL: [Self; 3] = [Self::X, Self::Y, Self::Z];

    /// The vector's components: across, across, along.
    fn turned(self, v: DVec3) -> DVec3 {
        match self {
            Self::X => DVec3::new(v.y, v.z, v.x),
            Self::Y => DVec3::new(v.z, v.x, v.y),
            Self::Z => v,
        }
    }
}

/// Which points of a column count as inside a solid.
#[derive(Clone, Copy)]
enum Coverage {
    /// Those inside for some point of the cell.
    Any,
    /// Those inside for every point of the cell.
    All,
}

#[derive(Clone, Copy)]
struct Grid {
    along: Along,
    low: DVec3,
    cell: DVec3,
    count: [usize; 2],
}

impl Grid {
    fn over(extent: Extent, along: Along, per_side: usize) -> Option<Self> {
        let (low, high) = (along.turned(extent.low), along.turned(extent.high));
        let size = high - low;
        if !(size.is_finite() && size.x > 0.0 && size.y > 0.0) {
            return None;
        }
        // Cells are nearly square, and their number does not depend on the shape.
        let side_m = (size.x * size.y).sqrt() / per_side.max(1) as f64;
        let count = [size.x, size.y].map(|m| ((m / side_m).ceil() as usize).clamp(1, 4 * per_side.max(1)));
        let cell = DVec3::new(size.x / count[0] as f64, size.y / count[1] as f64, 0.0);
        Some(Self { along, low, cell, count })
    }

    /// The cells that a solid's box touches, along both axes: the first one, and one past the last.
    fn touched(&self, extent: Extent) -> [[usize; 2]; 2] {
        let (low, high) = (self.along.turned(extent.low) - self.low, self.along.turned(extent.high) - self.low);
        let cells = |low_m: f64, high_m: f64, cell_m: f64, count: usize| {
            let first = (low_m / cell_m).floor().max(0.0) as usize;
            [first.saturating_sub(1), ((high_m / cell_m).ceil().max(0.0) as usize + 1).min(count)]
        };
        [cells(low.x, high.x, self.cell.x, self.count[0]), cells(low.y, high.y, self.cell.y, self.count[1])]
    }

    fn union_m3(&self, solids: &[ConvexSolid], coverage: Coverage) -> f64 {
        let mut columns: Vec<Vec<[f64; 2]>> = vec![Vec::new(); self.count[0] * self.count[1]];
        for solid in solids {
            let planes: Vec<(DVec3, f64)> =
                solid.half_spaces.iter().map(|h| (self.along.turned(h.normal), h.offset_m)).collect();
            let ends = [self.along.turned(solid.extent.low).z, self.along.turned(solid.extent.high).z];
            let [across, beside] = self.touched(solid.extent);
            for i in across[0]..across[1] {
                for j in beside[0]..beside[1] {
                    if let Some(stretch) = self.stretch(&planes, ends, [i, j], coverage)
                        && let Some(column) = columns.get_mut(i * self.count[1] + j)
                    {
                        column.push(stretch);
                    }
                }
            }
        }
        columns.iter_mut().map(|column| union_m(column)).sum::<f64>() * self.cell.x * self.cell.y
    }

    fn stretch(
        &self,
        planes: &[(DVec3, f64)],
        ends: [f64; 2],
        cell: [usize; 2],
        coverage: Coverage,
    ) -> Option<[f64; 2]> {
        let middle =
            self.low + DVec3::new((cell[0] as f64 + 0.5) * self.cell.x, (cell[1] as f64 + 0.5) * self.cell.y, 0.0);
        let [mut low, mut high] = ends;
        for (normal, offset_m) in planes {
            let half_m = (normal.x.abs() * self.cell.x + normal.y.abs() * self.cell.y) / 2.0;
            let level_m = normal.x * middle.x + normal.y * middle.y;
            let left_m = match coverage {
                Coverage::Any => offset_m - (level_m - half_m),
                Coverage::All => offset_m - (level_m + half_m),
            };
            if normal.z > 1e-9 {
                high = high.min(left_m / normal.z);
            } else if normal.z < -1e-9 {
                low = low.max(left_m / normal.z);
            } else {
                // The plane is vertical up to rounding, so the whole column is inside or outside.
                let sliver_m = 1e-9 * ends[0].abs().max(ends[1].abs());
                let out = match coverage {
                    Coverage::Any => left_m + sliver_m < 0.0,
                    Coverage::All => left_m - sliver_m < 0.0,
                };
                if out {
                    return None;
                }
            }
            if low >= high {
                return None;
            }
        }
        Some([low, high])
    }
}

/// The length of the union.
fn union_m(stretches: &mut [[f64; 2]]) -> f64 {
    stretches.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let (mut sum, mut reached) = (0.0, f64::NEG_INFINITY);
    for [low, high] in stretches.iter() {
        sum += (high - low.max(reached)).max(0.0);
        reached = reached.max(*high);
    }
    sum
}

/// Low and high of the volume, cubic meters: at least that of the union of `within`, at most that of `around`.
pub(super) fn bracket_m3(
    within: &[ConvexSolid],
    around: &[ConvexSolid],
    along: Along,
    per_side: usize,
) -> Option<[f64; 2]> {
    let extent = around.iter().fold(Extent::EMPTY, |all, solid| all.joined(solid.extent));
    let grid = Grid::over(extent, along, per_side)?;
    let (low, high) = (grid.union_m3(within, Coverage::All), grid.union_m3(around, Coverage::Any));
    (low.is_finite() && high.is_finite()).then_some([low, high])
}
