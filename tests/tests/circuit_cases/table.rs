//! Straight lines between points, level beyond them.

/// Points in rising order of `x`.
#[derive(Clone, Debug)]
pub(crate) struct Table {
    points: Vec<(f64, f64)>,
}

impl Table {
    /// From two columns of the case, or what is wrong with them.
    pub(crate) fn new(x: &[f64], y: &[f64]) -> Result<Self, String> {
        let rising = x.windows(2).all(|pair| pair[0] < pair[1]);
        if x.is_empty() || x.len() != y.len() || !rising {
            return Err("a table needs two columns of one length, the first rising".to_owned());
        }
        Ok(Self {
            points: x.iter().copied().zip(y.iter().copied()).collect(),
        })
    }

    /// The same value everywhere.
    pub(crate) fn constant(value: f64) -> Self {
        Self {
            points: vec![(0.0, value)],
        }
    }

    /// The value at `x`.
    pub(crate) fn at(&self, x: f64) -> f64 {
        let next = self.points.partition_point(|&(start, _)| start <= x);
        match (next.checked_sub(1), self.points.get(next)) {
            (None, _) => self.points[0].1,
            (Some(before), None) => self.points[before].1,
            (Some(before), Some(&(x1, y1))) => {
                let (x0, y0) = self.points[before];
                y0 + (y1 - y0) * (x - x0) / (x1 - x0)
            }
        }
    }

    /// The piece of the table that begins at or before `x` and ends after it; what lies beyond the
    /// points has no end.
    pub(crate) fn piece(&self, x: f64) -> (f64, f64) {
        let next = self.points.partition_point(|&(start, _)| start <= x);
        let start = next.checked_sub(1).map(|before| self.points[before].0);
        let end = self.points.get(next).map(|point| point.0);
        (
            start.unwrap_or(f64::NEG_INFINITY),
            end.unwrap_or(f64::INFINITY),
        )
    }

    /// The length of the shortest piece; one point alone has no pieces, and no end.
    pub(crate) fn shortest_piece(&self) -> f64 {
        self.points
            .windows(2)
            .map(|pair| pair[1].0 - pair[0].0)
            .fold(f64::INFINITY, f64::min)
    }
}
