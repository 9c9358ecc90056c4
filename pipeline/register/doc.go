// Package register holds what the crew wrote down of a season: [Season] is what season.toml says, and a [Register] has the rows
// of the sheets of finds, jackets, set-ups, localities, diary and words on photos. Package registerfile reads it from the files.
//
// A find is not a jacket: a jacket may hold several finds, and a find may lie in several jackets. Numbers of finds and
// jackets are any text and are never parsed for a meaning. A cell that was left blank is nil or "", which means "not
// recorded"; nothing is filled in for it. A row that cannot be used costs that row, a cell that cell, and each is a
// [Problem] with its file, row, column, value and what is allowed. Words said later stand in package words.
package register
