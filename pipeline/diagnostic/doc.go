// Package diagnostic says what is drawn on a photo so that a person sees what
// was found in it, or considered and not believed, and where that goes.
package diagnostic
