/**
 * Greatest distance between the points of two neighbouring beams that still belong to one surface, if the surface meets the
 * first beam at no flatter an angle than `lambda`: r·sin(turn) / sin(lambda - turn) + 3 sigma.
 * @param range m, of the first beam. @param sinTurn, cosTurn of the turn from beam to beam.
 * @param sinLambda, cosLambda of the least angle between beam and surface.
 * @param sigma m, standard deviation of the distance.
 * @returns m; Infinity where the turn is not smaller than lambda.
 * @source Borges & Aldon 2004, J. Intelligent & Robotic Systems 40:267-297.
 */
export function breakDistance(
  range: number,
  sinTurn: number,
  cosTurn: number,
  sinLambda: number,
  cosLambda: number,
  sigma: number,
): number {
  const sine = sinLambda * cosTurn - cosLambda * sinTurn;
  return sine > 0 ? (range * sinTurn) / sine + 3 * sigma : Infinity;
}
