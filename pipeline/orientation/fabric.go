package orientation

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// An Axis is a line in space: it plunges by PlungeDeg towards TrendDeg.
type Axis struct{ TrendDeg, PlungeDeg float64 }

// vector points east, north and up.
func (a Axis) vector() [3]float64 {
	sinT, cosT := math.Sincos(a.TrendDeg * math.Pi / 180)
	sinP, cosP := math.Sincos(a.PlungeDeg * math.Pi / 180)
	return [3]float64{cosP * sinT, cosP * cosT, -sinP}
}

func axisOf(v [3]float64) Axis {
	if v[2] > 0 {
		v = [3]float64{-v[0], -v[1], -v[2]}
	}
	level := math.Hypot(v[0], v[1])
	trend := math.Mod(math.Atan2(v[0], v[1])*180/math.Pi+360, 360)
	return Axis{trend, math.Atan2(-v[2], level) * 180 / math.Pi}
}

// Unfold turns an axis about the bed's strike until the bed, which dips by dipDeg towards dipTowardsDeg, lies level.
func Unfold(a Axis, dipDeg, dipTowardsDeg float64) Axis {
	v := a.vector()
	sin, cos := math.Sincos(dipTowardsDeg * math.Pi / 180)
	sinD, cosD := math.Sincos(dipDeg * math.Pi / 180)
	down := v[0]*sin + v[1]*cos // along the dip's direction
	along := [2]float64{v[0] - down*sin, v[1] - down*cos}
	turned := down*cosD - v[2]*sinD
	up := down*sinD + v[2]*cosD
	return axisOf([3]float64{along[0] + turned*sin, along[1] + turned*cos, up})
}

// A Fabric is the shape that axes in space make together: the eigenvalues of their orientation tensor, which add up to 1, and
// Woodcock's shape K (below 1 a girdle, above 1 a cluster) and strength C. NaN where an eigenvalue is 0.
type Fabric struct {
	N          int
	S1, S2, S3 float64
	K, C       float64
	Mean       Axis // the first eigenvector
}

// FabricOf wants Fewest axes at least; false below.
func FabricOf(axes []Axis) (Fabric, bool) {
	if len(axes) < Fewest {
		return Fabric{N: len(axes)}, false
	}
	tensor := mat.NewSymDense(3, nil)
	for _, a := range axes {
		v := a.vector()
		for i := range 3 {
			for j := i; j < 3; j++ {
				tensor.SetSym(i, j, tensor.At(i, j)+v[i]*v[j]/float64(len(axes)))
			}
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(tensor, true) {
		return Fabric{N: len(axes)}, false
	}
	values := eigen.Values(nil)
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	f := Fabric{N: len(axes), S1: values[2], S2: values[1], S3: values[0],
		Mean: axisOf([3]float64{vectors.At(0, 2), vectors.At(1, 2), vectors.At(2, 2)})}
	f.K = math.Log(f.S1/f.S2) / math.Log(f.S2/f.S3)
	f.C = math.Log(f.S1 / f.S3)
	return f, true
}
