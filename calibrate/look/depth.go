package look

import (
	"fieldjacket/calibrate"
	"fieldjacket/calibrate/relief"
)

// DepthRequest asks where photos of one laid grid show the ground that the
// first of them shows. There are two at least.
type DepthRequest struct {
	Reference calibrate.Reference `json:"reference"` // the grid
	Photos    []DepthPhoto        `json:"photos"`
}

// A DepthPhoto is a photo with its strings and the plane fitted to them.
type DepthPhoto struct {
	Source Source           `json:"source"`
	Plane  calibrate.Plane  `json:"plane"`
	Marks  []calibrate.Mark `json:"marks"`
}

// DepthReply has one entry for each photo after the first, see [relief.Fit].
// Those whose strings could not be laid on the first photo's for certain have
// no nodes.
type DepthReply struct {
	Matches []relief.Matches `json:"matches"`
}

// Strung is what the fit of depths takes of the photos.
func (r *DepthRequest) Strung() []relief.Photo {
	out := make([]relief.Photo, len(r.Photos))
	for i := range r.Photos {
		out[i] = relief.Photo{Plane: &r.Photos[i].Plane, Marks: r.Photos[i].Marks}
	}
	return out
}
