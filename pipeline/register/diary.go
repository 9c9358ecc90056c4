package register

// AllNumbers in a diary line's numbers means every jacket of the register.
const AllNumbers = "all"

// An Entry is one line of the diary. Texts are as typed, "" is "not recorded".
type Entry struct {
	Row     int      `json:"Row"`
	Date    Date     `json:"Date"`    // always recorded
	Time    string   `json:"Time"`    // "HH:MM" by the crew's clock
	Numbers []string `json:"Numbers"` // of jackets or finds, or AllNumbers, ranges run over; never empty
	What    string   `json:"What"`
	By      string   `json:"By"`
	Kind    string   `json:"Kind"`
	Mix     string   `json:"Mix"`   // by name, see Season.Mix
	Where   string   `json:"Where"` // bone or square
	Coats   string   `json:"Coats"`
	Stage   Stage    `json:"Stage"` // the stage that was reached by it
	Other   []Other  `json:"Other"`
}

// outdates reports whether e's stage counts rather than that of last, an earlier line of the same jacket or none.
func (e Entry) outdates(last Entry) bool {
	if c := e.Date.Compare(last.Date); c != 0 || last.Stage == "" {
		return c >= 0
	}
	if e.Time != "" && last.Time != "" && e.Time != last.Time {
		return e.Time > last.Time
	}
	return e.Stage.Reached(last.Stage)
}
