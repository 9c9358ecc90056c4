package look

// Cells along each side of the pictures in [Content], whatever the photo's shape.
const (
	GreyCells = 32
	TintCells = 8
)

// A Content is a photo reduced to what tells it from others.
type Content struct {
	Sharp float64 `json:"sharp"` // variance of the Laplacian, levels squared; compares shots of one view only
	Grey  []byte  `json:"grey"`  // mean luma in 32 x 32 cells of the upright picture, row by row
	Tint  []byte  `json:"tint"`  // mean Cr in 8 x 8 cells, then mean Cb; 128 is grey
}
