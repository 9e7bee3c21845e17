/**
 * Small symmetric positive definite systems, row by row in flat arrays. No allocation.
 * @source Golub & Van Loan, Matrix Computations, 4th ed., section 4.2 (Cholesky).
 */

/**
 * Lower factor L of A = L Lᵀ.
 * @param a Float64Array[n * n], symmetric; only the lower triangle is read.
 * @param lower Float64Array[n * n], gets L in its lower triangle; may be `a` itself.
 * @returns false where A is not positive definite (then `lower` is half-written).
 */
export function factor(a: Readonly<Float64Array>, n: number, lower: Float64Array): boolean {
  for (let i = 0; i < n; i++) {
    const ri = i * n;
    for (let j = 0; j <= i; j++) {
      const rj = j * n;
      let sum = a[ri + j];
      for (let k = 0; k < j; k++) sum -= lower[ri + k] * lower[rj + k];
      if (i === j) {
        if (!(sum > 0)) return false;
        lower[ri + i] = Math.sqrt(sum);
      } else lower[ri + j] = sum / lower[rj + j];
    }
  }
  return true;
}

/** Solves L Lᵀ x = b in place. @param x Float64Array[n], b on entry. */
export function solveFactored(lower: Readonly<Float64Array>, n: number, x: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let sum = x[i];
    for (let k = 0; k < i; k++) sum -= lower[i * n + k] * x[k];
    x[i] = sum / lower[i * n + i];
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i];
    for (let k = i + 1; k < n; k++) sum -= lower[k * n + i] * x[k];
    x[i] = sum / lower[i * n + i];
  }
}

/**
 * Inverse of A from its factor.
 * @param inverse Float64Array[n * n], gets the whole symmetric inverse; not `lower`.
 * @param work Float64Array[n * n], scratch; not the others.
 */
export function invertFactored(
  lower: Readonly<Float64Array>,
  n: number,
  inverse: Float64Array,
  work: Float64Array,
): void {
  for (let j = 0; j < n; j++) {
    // work = L⁻¹, lower triangle
    work[j * n + j] = 1 / lower[j * n + j];
    for (let i = j + 1; i < n; i++) {
      let sum = 0;
      for (let k = j; k < i; k++) sum -= lower[i * n + k] * work[k * n + j];
      work[i * n + j] = sum / lower[i * n + i];
    }
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = i; k < n; k++) sum += work[k * n + i] * work[k * n + j];
      inverse[i * n + j] = sum;
      inverse[j * n + i] = sum;
    }
  }
}
