package register

// A Clock says that one phone's clock was wrong.
type Clock struct {
	Folder string  `json:"Folder"` // the outermost folder below photos/; "": photos that lie in no folder
	Model  string  `json:"Model"`  // as the photos name it; "": every phone of that folder
	AheadS float64 `json:"AheadS"` // seconds that the clock was ahead of the right time; negative: behind
}
