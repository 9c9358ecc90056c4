package intake

import (
	"bytes"
	"encoding/xml"
	"strings"
)

// namespaces are those of XMP whose properties are read, by the prefix that the field table gives them.
var namespaces = map[string]string{
	"http://ns.adobe.com/exif/1.0/":               "exif:",
	"http://cipa.jp/exif/1.0/":                    "exifEX:",
	"http://ns.adobe.com/tiff/1.0/":               "tiff:",
	"http://ns.adobe.com/xap/1.0/":                "xmp:",
	"http://ns.adobe.com/photoshop/1.0/":          "photoshop:",
	"http://ns.google.com/photos/1.0/panorama/":   "GPano:",
	"http://ns.google.com/photos/1.0/camera/":     "GCamera:",
	"http://ns.google.com/photos/1.0/depthmap/":   "GDepth:",
	"http://www.w3.org/1999/02/22-rdf-syntax-ns#": "rdf:",
}

// maxProperty is the longest text of one property that is kept.
const maxProperty = 256

// properties reads the simple properties of an XMP packet (ISO 16684-1, 7: RDF, each property an attribute or an element of
// rdf:Description). A packet that ends in nonsense gives what stood before it; lists and structures are passed over. The
// decoder expands no entities, so that a short packet stays short.
func properties(packet []byte) map[string]string {
	found := map[string]string{}
	keep := func(name xml.Name, text string) {
		prefix, ok := namespaces[name.Space]
		if _, there := found[prefix+name.Local]; ok && !there && len(text) <= maxProperty && len(name.Local) <= maxProperty {
			found[prefix+name.Local] = strings.TrimSpace(text)
		}
	}
	depth, described := 0, -1 // described: the depth of rdf:Description
	var name xml.Name
	var text strings.Builder
	in := xml.NewDecoder(bytes.NewReader(packet))
	for {
		token, err := in.Token()
		if err != nil {
			return found
		}
		switch t := token.(type) {
		case xml.StartElement:
			depth++
			switch {
			case described < 0 && namespaces[t.Name.Space]+t.Name.Local == "rdf:Description":
				described = depth
				for _, a := range t.Attr {
					keep(a.Name, a.Value)
				}
			case depth == described+1:
				name = t.Name
				text.Reset()
			default:
				name = xml.Name{} // a list or structure
			}
		case xml.CharData:
			if depth == described+1 && text.Len() <= maxProperty {
				text.Write(t)
			}
		case xml.EndElement:
			if depth == described+1 && name.Local != "" {
				keep(name, text.String())
			}
			if depth == described {
				described = -1
			}
			name = xml.Name{}
			depth--
		}
	}
}
