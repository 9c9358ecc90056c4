package vision

// Debug is scratch.
var Debug string
