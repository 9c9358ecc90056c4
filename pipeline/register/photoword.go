package register

// A PhotoWord is one row of photos.csv: what a person says of a photo or of several. It is kept as typed even where it names
// an unknown jacket, view or set-up (which is a [Problem] too), so that whoever uses it can leave the photo to a person
// instead of falling back on weaker signs.
type PhotoWord struct {
	Row      int
	Photos   string // a name, folder/name, wildcard or range, as typed
	Which    Which  // the same, understood
	Jackets  []string
	View     View
	SetUp    string
	Caption  string
	Chosen   bool // yes; blank is no
	LeaveOut bool // yes; blank is no
	// ShowsPeople is whether people can be told in the photo: "yes", "no", "" not known.
	ShowsPeople string
	By          string
}
