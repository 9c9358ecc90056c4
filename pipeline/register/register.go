package register

// A Register is everything the crew wrote down, in the order of its sheets.
type Register struct {
	Season     Season
	Finds      []Find
	Jackets    []Jacket
	SetUps     []SetUp
	Localities []Locality
	Diary      []Entry // in the order of the sheet
	Words      []PhotoWord
	Points     []KnownPoint
	Placings   []Placing
	Sheets     []string // the names of those that are there, be it with their heads only: "finds"
	Problems   []Problem
}
