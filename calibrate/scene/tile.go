package scene

import "fieldjacket/calibrate/scene/noise"

// Tiles are the four at the corners of a grid's frame.
type Tiles struct {
	// Order is which tile lies at each corner, clockwise from where the
	// strings of both families are numbered from; 0: none. All 0: 1, 2, 3, 4.
	Order    [4]int
	InCm     float64 // from the outermost strings to a tile's middle, inwards
	BelowCm  float64 // how far they lie below the strings
	OffCm    float64 // standard deviation of a middle off its place, each way
	LeanDeg  float64 // how far each leans, to any side
	AskewDeg float64 // standard deviation of how far each is turned off the strings
	Mud      float64 // 0 to 1: share of each that is muddy
}

// tiles are the grid's, in the order of its corners.
func (l *layout) tiles(seed uint64) (out []Card) {
	t := l.g.Tiles
	if t == nil {
		return nil
	}
	order := t.Order
	if order == ([4]int{}) {
		order = [4]int{1, 2, 3, 4}
	}
	for i, corner := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		if order[i] == 0 {
			continue
		}
		h := noise.Mix(seed + uint64(i) + 40)
		// cm along the strings from the middle
		a := corner[0]*(float64(l.g.Across)/2*l.g.PitchCm-t.InCm) + t.OffCm*noise.Normal(h)
		d := corner[1]*(float64(l.g.Down)/2*l.pitchDown/l.down.v-t.InCm) + t.OffCm*noise.Normal(noise.Mix(h))
		at := l.axes.world(a+d*l.down.u, d*l.down.v, -t.BelowCm)
		turn := 0.0 // the names stand towards the middle
		if corner[1] > 0 {
			turn = 180
		}
		out = append(out, Card{
			Pose: Pose{XCm: at.x, YCm: at.y, ZCm: at.z, TurnDeg: l.g.TurnDeg + turn + t.AskewDeg*noise.Normal(noise.Mix(h+1)),
				LeanDeg: l.g.LeanDeg + t.LeanDeg, LeanToDeg: l.g.LeanToDeg + 360*noise.Share(noise.Mix(h+2), 1)},
			Tile: true, Number: order[i], MarginCm: 0.45, ThickCm: 0.2, Mud: t.Mud,
		})
	}
	return out
}
