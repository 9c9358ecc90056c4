package intake

import (
	"errors"
	"io/fs"
)

// Why a file could not be taken. Test with [errors.Is]; the error's text says more.
var (
	// ErrNotPhoto: something else that lies in the photos folder (a video, a text, a folder).
	ErrNotPhoto = errors.New("not a photo")
	// ErrLinked: a link to a folder, which is not followed here.
	ErrLinked = errors.New("a link to a folder, which is not followed")
	// ErrName: records, words and paper could not name the file.
	ErrName = errors.New("its name is not UTF-8 text")
	// ErrTooLarge: beyond the [Limits].
	ErrTooLarge = errors.New("photo too large")
	// ErrChanging: the file grew, shrank or was rewritten while it was read, as one that is still being copied does.
	ErrChanging = errors.New("the file changed while the program was at work on it")
)

// A Photo is one file as found in the season's photos folder.
type Photo struct {
	File        string    `json:"file"`                  // slash path relative to the photos folder
	SHA256      string    `json:"sha256,omitempty"`      // of the whole file, 64 hex digits; "" when the file was refused before hashing
	Bytes       int64     `json:"bytes"`                 // length of the file
	WidthPx     int       `json:"width_px,omitempty"`    // of the upright picture; 0: not known
	HeightPx    int       `json:"height_px,omitempty"`   // of the upright picture; 0: not known
	Format      string    `json:"format,omitempty"`      // container by content: "jpeg", "heic", ...; "": not known
	Orientation int       `json:"orientation,omitempty"` // EXIF 1 to 8 as stored; 1 when the photo does not say, and for HEIC, which a decoder turns by itself; 0: not read
	CutShort    bool      `json:"cut_short,omitempty"`   // JPEG: the picture does not end
	Intact      bool      `json:"intact,omitempty"`      // HEIC: the picture's bytes were looked through, and none contradicts the format
	FileState   FileState `json:"stamp,omitzero"`        // of the file, not of its content
}

// A FileState is what tells, together with the length, that a file has not changed since it was hashed. It says nothing
// about the picture, differs between copies of one photo, and must not reach any output.
type FileState struct {
	ModTimeNs int64  `json:"mod_time_ns"`     // file's modification time, ns since 1970 UTC
	Inode     uint64 `json:"inode,omitempty"` // 0 where the system has none
}

// Unchanged reports whether info, of the file now at the photo's place, has the length and file state that p was hashed with.
// A photo that was never hashed is always changed.
func (p Photo) Unchanged(info fs.FileInfo) bool {
	return p.SHA256 != "" && p.Bytes == info.Size() && p.FileState == fileStateOf(info)
}

// RawSizePx returns the size of the picture as stored, before Orientation turns it upright.
func (p Photo) RawSizePx() (widthPx, heightPx int) {
	if swapsSides(p.Orientation) {
		return p.HeightPx, p.WidthPx
	}
	return p.WidthPx, p.HeightPx
}

// swapsSides reports whether an EXIF orientation turns the picture by a quarter.
func swapsSides(orientation int) bool { return orientation >= 5 && orientation <= 8 }

func fileStateOf(info fs.FileInfo) FileState {
	return FileState{ModTimeNs: info.ModTime().UnixNano(), Inode: inodeOf(info)}
}
