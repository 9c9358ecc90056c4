package withhold

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// stems begin the words of heads under which crews write where a place lies, whose it is and how one gets there. They are without
// accents. (English, German, Spanish, French, Portuguese, Italian, Russian, Mongolian, Chinese; common practice, no source.)
var stems = []string{
	"latitu", "longitu", "coord", "koord", "geokoord", "georef", "geoloc", "geolok", "geohash", "posit", "posic", "posiz", "standort", "fundort", "fundstell", "fundplatz", "lageplan", "lagebe",
	"breitengrad", "langengrad", "rechtswert", "hochwert", "ostwert", "nordwert", "easting", "northing", "waypoint", "wegpunkt", "trackpoint", "waypt",
	"ubicac", "localiz", "localis", "lokalis", "emplacement", "location", "directions", "wegbeschr", "anfahrt", "zufahrt",
	"county", "landkreis", "bezirk", "gemeinde", "gemarkung", "flurst", "municip", "departament", "departement", "provinz", "distri", "township", "commune",
	"gemeente", "kommun", "comuna", "concelho", "ayuntam", "freguesia", "parroq", "paroisse", "parish", "canton", "kanton", "gmina", "powiat", "obec", "okres", "općina", "opcina", "opstin", "belediye", "kunta", "község", "sveitarf",
	"provinc", "prefect", "prefekt", "oblast", "voivod", "wojew", "vereda", "corregim", "village", "dorf", "ortschaft", "ortsteil", "aimag", "aymag",
	"mapsheet", "kartenbl", "messtisch", "quadrang", "topoquad", "feuille", "carta", "foglio", "planquadrat", "gridref", "gitter",
	"landowner", "owner", "eigentum", "besitzer", "propiet", "propriet", "dueno", "permit", "permis", "permes", "genehmig", "erlaubnis", "licen",
	"access", "acces", "zugang", "what3", "pluscode", "address", "adresse", "direccion", "endereco", "indirizzo", "parcel", "parzell", "estancia", "fazenda", "hacienda",
	"координ", "широт", "долгот", "местополож", "местонахож", "владел", "разреш", "солбицол", "байршил", "өргөрөг", "уртраг",
	"област", "муницип", "општин", "общин", "аймаг",
}

// words are further ones that count alone: "lat", but not "lateral".
var words = []string{
	"lat", "lon", "lng", "gps", "utm", "ups", "mgrs", "usng", "wgs", "wgs84", "nad27", "nad83", "etrs89", "olc", "x", "y", "lage", "ort", "kreis", "blatt", "flur", "lugar", "paraje", "sitio", "lieu",
	"luogo", "localita", "comune", "quad", "map", "karte", "geo", "place", "site", "tk25", "plss", "trs", "ranch", "farm", "finca", "hoja", "folha", "norte", "este", "место", "район", "town", "city", "stadt", "ville", "pueblo", "kraj", "obcina", "soum", "сум", "село", "деревня",
}

// axes are words of heads under which a number of five digits or more is an easting or a northing.
var axes = []string{"rw", "hw", "re", "ho", "e", "n", "o", "r", "h", "s", "w", "east", "north", "ost", "nord", "oost", "noord", "est", "rechts", "hoch", "leste", "sud", "sur", "south", "west", "х", "у"}

// phrases are heads of several words, of which none counts alone.
var phrases = []string{"plus code", "map sheet", "grid ref", "grid square", "how to get", "open location", "lieu dit", "locality name", "long deg", "long dd"}

// written are signs that stand for the same in scripts without blanks.
var written = []string{"坐标", "经度", "纬度", "经纬", "位置", "地点", "座標", "緯度", "経度", "市", "县", "縣", "村", "镇", "省"}

// placeHead reports whether a column of this head may hold a position, an owner or a permit.
func placeHead(head string) bool {
	plain := plainOf(head)
	has := func(s string) bool { return strings.Contains(plain, plainOf(s)) }
	return plain == "long" || slices.ContainsFunc(phrases, has) || slices.ContainsFunc(written, has) ||
		slices.ContainsFunc(strings.Fields(plain), func(part string) bool {
			return slices.ContainsFunc(words, func(w string) bool { return part == plainOf(w) }) ||
				slices.ContainsFunc(stems, func(stem string) bool { return strings.HasPrefix(part, plainOf(stem)) })
		})
}

func axisHead(head string) bool {
	return slices.ContainsFunc(strings.Fields(plainOf(head)), func(part string) bool { return slices.Contains(axes, part) })
}

// plainOf is a head in small letters without accents, its words parted by one blank.
func plainOf(head string) string {
	var b strings.Builder
	for _, c := range norm.NFD.String(strings.ToLower(head)) {
		switch {
		case unicode.Is(unicode.Mn, c):
		case unicode.IsLetter(c), unicode.IsDigit(c):
			b.WriteRune(c)
		default:
			b.WriteByte(' ')
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}
