//! Symmetric positive definite matrices: solving and inverting by Cholesky's method.
//!
//! Source: Golub and Van Loan, Matrix Computations, section 4.2 (from memory).

/// The lower triangle of a Cholesky decomposition.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Triangle(Vec<Vec<f64>>);

/// Returns the triangle whose product with itself turned over is the matrix, or
/// nothing where the matrix is not safely positive definite.
pub(super) fn decompose(matrix: &[Vec<f64>]) -> Option<Triangle> {
    let mut triangle: Vec<Vec<f64>> = Vec::with_capacity(matrix.len());
    for (row, entries) in matrix.iter().enumerate() {
        let mut line: Vec<f64> = Vec::with_capacity(row + 1);
        for (column, above) in triangle.iter().enumerate() {
            let rest = entries[column] - dot(&line, above);
            line.push(rest / above[column]);
        }
        let rest = entries[row] - dot(&line, &line);
        // So little left of the diagonal is rounding, not information. Not a number
        // is no more than anything and ends here too.
        if rest.is_nan() || rest <= 1e-11 * entries[row].abs() {
            return None;
        }
        line.push(libm::sqrt(rest));
        triangle.push(line);
    }
    Some(Triangle(triangle))
}

impl Triangle {
    /// Returns what the matrix turns into the given column.
    pub(super) fn solve(&self, column: &[f64]) -> Vec<f64> {
        let size = self.0.len();
        let mut forward: Vec<f64> = Vec::with_capacity(size);
        for (row, line) in self.0.iter().enumerate() {
            let rest = column[row] - dot(&forward, line);
            forward.push(rest / line[row]);
        }
        let mut solved = vec![0.0; size];
        for row in (0..size).rev() {
            let below: f64 = (row + 1..size)
                .map(|other| self.0[other][row] * solved[other])
                .sum();
            solved[row] = (forward[row] - below) / self.0[row][row];
        }
        solved
    }

    /// Returns the inverse between two columns: how a sum of estimates with these
    /// factors varies with another, where the matrix is the information.
    pub(super) fn spread(&self, column: &[f64]) -> f64 {
        let mut forward: Vec<f64> = Vec::with_capacity(self.0.len());
        for (row, line) in self.0.iter().enumerate() {
            let rest = column[row] - dot(&forward, line);
            forward.push(rest / line[row]);
        }
        dot(&forward, &forward)
    }
}

/// The sum of products, as far as the shorter goes.
fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_system_is_solved() {
        // 4 2 / 2 3 turns (1, 2) into (8, 8).
        let triangle = decompose(&[vec![4.0, 2.0], vec![2.0, 3.0]]).expect("it is definite");
        let solved = triangle.solve(&[8.0, 8.0]);
        assert!((solved[0] - 1.0).abs() < 1e-15 && (solved[1] - 2.0).abs() < 1e-15);
        // Its inverse has 3/8 at the top left.
        assert!((triangle.spread(&[1.0, 0.0]) - 0.375).abs() < 1e-15);
    }

    #[test]
    fn what_is_not_definite_is_refused() {
        for matrix in [
            vec![vec![1.0, 1.0], vec![1.0, 1.0]],
            vec![vec![0.0]],
            vec![vec![1.0, 2.0], vec![2.0, 1.0]],
            vec![vec![f64::NAN]],
        ] {
            assert!(decompose(&matrix).is_none());
        }
    }
}
