package pipeline

import "fieldjacket/pipeline/record"

// What is known of one photo; see package record.
type (
	Record = record.Record
	Plate  = record.Plate
	Note   = record.Note
	Where  = record.Where
	Level  = record.DepthBetween
)
