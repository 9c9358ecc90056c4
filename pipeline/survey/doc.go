// Package survey places set-ups in the quarry's own grid: metres east and north of a datum peg, and heights above it.
//
// Put what was measured into a Network, known points, frames and observations, and call Adjust. One least-squares adjustment takes
// them all; each Placement comes with its covariance, and says what would not have been noticed. What contradicts the rest is
// found by Baarda's test and named where it can be told apart; where two explanations put a frame in two places, it is not placed.
//
// Pure: no file is touched. Angles are in degrees, bearings clockwise from the grid's north. Sources: Baarda, A testing procedure
// for use in geodetic networks, Netherlands Geodetic Commission, Publications on Geodesy 2(5), 1968; least squares with
// covariance as in JCGM 102:2011.
package survey
