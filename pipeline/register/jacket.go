package register

// A Package is the kind of a jacket: the plaster jacket or what stands in its place.
type Package string

// The kinds of package. "" is "not recorded".
const (
	PlasterJacket Package = "jacket"
	Bag           Package = "bag"
	Vial          Package = "vial"
	Foil          Package = "foil"
	Box           Package = "box"
	Sack          Package = "sack"
	Sample        Package = "sample"
	LeftInGround  Package = "left in ground"
)

// Packages lists all kinds of package.
var Packages = []Package{PlasterJacket, Bag, Vial, Foil, Box, Sack, Sample, LeftInGround}

// A Jacket is one row of the jackets sheet; where that sheet is blank, there is one per find. Texts are as typed, ""
// and nil are "not recorded".
type Jacket struct {
	Row           int      `json:"Row"` // in the jackets sheet; 0: made from the find of the same number, or carried over
	Number        string   `json:"Number"`
	Finds         []string `json:"Finds"` // field numbers as typed; see Register.FindsOf for those that the finds sheet has
	Kind          Package  `json:"Kind"`
	Stage         Stage    `json:"Stage"` // as the sheet says; Register.StageOf knows the diary too
	Piece         *Piece   `json:"Piece"` // which of how many pieces one find was divided into
	Formerly      []string `json:"Formerly"`
	SisterJackets []string `json:"SisterJackets"`
	LengthCm      *float64 `json:"LengthCm"`
	WidthCm       *float64 `json:"WidthCm"`
	DepthCm       *float64 `json:"DepthCm"`
	Rock          string   `json:"Rock"`
	Wet           string   `json:"Wet"`
	Separator     string   `json:"Separator"`
	JacketKind    string   `json:"JacketKind"` // what it is made of: "plaster and burlap"
	Layers        string   `json:"Layers"`
	Splints       string   `json:"Splints"`
	BoneCoverMm   *float64 `json:"BoneCoverMm"` // between the bone and the plaster, least
	OpenSide      string   `json:"OpenSide"`    // the side to open
	WeighedKg     *float64 `json:"WeighedKg"`
	Samples       string   `json:"Samples"`
	SentTo        string   `json:"SentTo"`
	Waivers       []Waiver `json:"Waivers"`
	CarriedFrom   string   `json:"CarriedFrom"` // the earlier season that it goes on from, as typed
	OutlinedCm2   *float64 `json:"OutlinedCm2"` // area of the block as a person outlined it in a photo, with its U on top; from no sheet
	Other         []Other  `json:"Other"`

	Carried     *Carried `json:"-"`           // what an earlier season told of it; nil: it began in this one
	FromEarlier []string `json:"FromEarlier"` // heads of the cells that stand as the earlier season had them
}

// Plastered reports whether it is a plaster jacket, which one of no kind is taken for.
func (j Jacket) Plastered() bool { return j.Kind == "" || j.Kind == PlasterJacket }

// A Piece is the N-th of Of pieces, N from 1.
type Piece struct {
	N  int `json:"N"`
	Of int `json:"Of"`
}

// A Waiver closes the gap that a missing view leaves; it is printed.
type Waiver struct {
	View   View   `json:"View"`
	Reason string `json:"Reason"`
	By     string `json:"By"` // initials
}

// Waiver returns the jacket's waiver for a view.
func (j Jacket) Waiver(v View) (Waiver, bool) {
	for _, w := range j.Waivers {
		if w.View == v {
			return w, true
		}
	}
	return Waiver{}, false
}

// CarriedView returns what an earlier season had of a view, itself or from a season before.
func (j Jacket) CarriedView(view View) (CarriedView, bool) {
	for c := j.Carried; c != nil; c = c.Before {
		for _, v := range c.Views {
			if v.View == view {
				return v, true
			}
		}
	}
	return CarriedView{}, false
}
