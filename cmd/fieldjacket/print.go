package main

// printCommand is what is printed apart from a run.
type printCommand struct {
	Forms printForms        `cmd:"" help:"Blank forms: find, jacket, diary, photo log."`
	Plate printPlateCommand `cmd:"" help:"A plate at a true scale, as PDF sheets or as a picture."`
}
