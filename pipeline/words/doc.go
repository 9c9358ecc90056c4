// Package words keeps words.log, what people said about photos, jackets and set-ups: plain text in the season's folder, one
// line a word, only ever appended to.
//
// The functions you want are [Read], which gives a [Log] and every fault of it, and [Append], which adds words. What they
// come to is asked of the log: [Log.Photo], [Log.SetUp], [Log.Waivers].
//
// What a line holds is told at [Word], how to say something at [Append], and which of several lines counts at [Log].
package words
