package card

// The dots of every pattern, found by the search in search_test.go, which
// finds them anew and proves their distances whenever the tests run. Printed
// cards are in use for years: add words behind, never change one.
var cardWords = [32]uint64{}

var tileWords = [4]uint64{}
