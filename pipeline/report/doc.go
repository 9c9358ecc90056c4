// Package report says of each jacket what it lacks and what is contradicted, from
// the records of the photos. [Of] is all of it; package audit holds the rules of
// what is due.
package report
