// Package audit says what each jacket still lacks at its stage, while the bone is still in sight.
//
// The function you want is [Check]; it gives a [Report] that the terminal's table, the day page and the packets show. The
// package prints nothing and decides nothing about photos: which jacket and view a photo has is package assign's word.
package audit
