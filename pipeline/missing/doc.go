// Package missing holds a season against what the last run knew of it, so that a
// card that is not connected takes no finished paper and no words with it.
//
// [Season.AsMuch] is what you want.
package missing
