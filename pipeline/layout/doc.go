// Package layout says which pixels of a photo a picture of it shows, and how
// many px/cm it has. It reads no files: values go in and come out.
//
// [Scaled] lays a plate over what a photo shows of a plane, [Whole]
// shows a photo without scale, [Printed] lays a plate out for paper.
package layout
