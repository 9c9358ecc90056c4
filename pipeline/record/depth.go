package record

import (
	"encoding/binary"
	"encoding/json"
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"

	"fieldjacket/calibrate/relief"
)

// depthEnding is that of the file beside a record that holds what its photo and
// others told together of the ground.
const depthEnding = ".depth.json"

// DepthFile holds what the photo of the record of a name told of the ground
// together with others, of which it is the first.
func DepthFile(name string) string { return "records/" + name + depthEnding }

// DepthStage is the stage of [Depth]: its notes and its key stand in the first photo's record.
const DepthStage = "depth"

// Shot is what the photo's file says of how it was taken.
func (r *Record) Shot() relief.Shot {
	s := relief.Shot{Name: r.Photo.File, Camera: r.Camera()}
	if c := r.Capture; c != nil {
		s.Lens = c.Make + " " + c.Model
		if c.DigitalZoom != nil {
			s.Zoom = *c.DigitalZoom
		}
		if c.Local != nil {
			s.Taken = c.Local.At(0)
		}
	}
	return s
}

// A Depth is what photos of one laid grid told together: depths, or why not.
type Depth struct {
	Key     string          // hash of all that they were measured from
	OpenCV  string          // the library that matched the photos
	Files   []string        // slash paths below photos/, the first photo's first; one for each of Depths.Turns
	Depths  *relief.Depths  // nil: refused
	Refused *relief.Refusal // nil: found
}

// keptDepth is a Depth as it is kept: its nodes in 16 bits each, tenths of a
// millimetre, little-endian, since there are forty thousand to a square metre.
type keptDepth struct {
	Key     string          `json:"key"`
	OpenCV  string          `json:"opencv"`
	Files   []string        `json:"files"`
	Depths  *relief.Depths  `json:"depths,omitempty"`
	Refused *relief.Refusal `json:"refused,omitempty"`
	Below   []byte          `json:"below,omitempty"`
	UBelow  []byte          `json:"u_below,omitempty"`
}

// nodeCm is what a node's depth is kept to.
const nodeCm = 0.01

// MarshalJSON packs the nodes.
func (d Depth) MarshalJSON() ([]byte, error) {
	k := keptDepth{Key: d.Key, OpenCV: d.OpenCV, Files: d.Files, Refused: d.Refused}
	if d.Depths != nil {
		bare := *d.Depths
		k.Below, k.UBelow = packed(bare.Nodes.BelowCm), packed(bare.Nodes.UBelowCm)
		bare.Nodes.BelowCm, bare.Nodes.UBelowCm = nil, nil
		k.Depths = &bare
	}
	return json.Marshal(k)
}

// UnmarshalJSON unpacks them.
func (d *Depth) UnmarshalJSON(text []byte) error {
	var k keptDepth
	if err := json.Unmarshal(text, &k); err != nil {
		return err
	}
	*d = Depth{k.Key, k.OpenCV, k.Files, k.Depths, k.Refused}
	if (k.Depths == nil) == (k.Refused == nil) {
		return errors.New("depth: neither found nor refused, or both")
	}
	if n := k.Depths; n != nil {
		n.Nodes.BelowCm, n.Nodes.UBelowCm = unpacked(k.Below), unpacked(k.UBelow)
		if count := n.Nodes.Columns * n.Nodes.Rows; len(n.Nodes.BelowCm) != count || len(n.Nodes.UBelowCm) != count || len(n.Turns) != len(k.Files) || !(n.Nodes.SpacingCm > 0) {
			return errors.New("depth: as many nodes and photos as it says are not there")
		}
	}
	return nil
}

func packed(cm []float64) (out []byte) {
	for _, v := range cm {
		n := math.Round(min(max(v/nodeCm, math.MinInt16), math.MaxInt16))
		if v > 0 && n == 0 {
			n = 1 // an uncertainty of nothing would say that nothing was measured
		}
		out = binary.LittleEndian.AppendUint16(out, uint16(int16(n)))
	}
	return out
}

func unpacked(b []byte) (cm []float64) {
	for ; len(b) > 1; b = b[2:] {
		cm = append(cm, float64(int16(binary.LittleEndian.Uint16(b)))*nodeCm)
	}
	return cm
}

// LoadDepth is what was kept below a season's paper folder for the record of a
// name; nil: nothing, or what is there is not whole. The disk's own errors are
// given.
func LoadDepth(paper, name string) (*Depth, error) {
	text, err := os.ReadFile(filepath.Join(paper, filepath.FromSlash(DepthFile(name))))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var d Depth
	if json.Unmarshal(text, &d) != nil {
		return nil, nil
	}
	return &d, nil
}
