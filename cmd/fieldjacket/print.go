package main

// printCommand is what is printed at home before a trip.
type printCommand struct {
	Forms printForms `cmd:"" help:"Blank forms: find, jacket, diary, photo log."`
}
