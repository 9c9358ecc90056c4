package container

// TIFF field types (TIFF 6.0, p. 15 and 16; IFD from its supplement 1, UTF-8 from Exif 3.0), with the bytes of one value.
const (
	TypeByte      = 1
	TypeASCII     = 2
	TypeShort     = 3
	TypeLong      = 4
	TypeRational  = 5
	TypeSRational = 10
	TypeIFD       = 13
	TypeUTF8      = 129
)

var TypeBytes = map[uint16]int64{
	TypeByte: 1, TypeASCII: 1, TypeShort: 2, TypeLong: 4, TypeRational: 8, TypeSRational: 8, TypeUTF8: 1,
}
