// Package stereo matches two photos of the ground under one laid grid: which
// readings of the strings the ground bears out, and where the second photo
// shows what the first does. Pure Go, on grey pixels.
//
// The first photo is drawn on the strings' plane; for each depth the second is
// drawn as the first would see it if the ground lay there (a sweep of levels:
// Collins, CVPR 1996), and both are correlated over small windows, strings
// left out. Costs are summed along eight directions (Hirschmueller, IEEE PAMI
// 30(2), 2008).
package stereo
