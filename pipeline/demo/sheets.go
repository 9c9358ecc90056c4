package demo

// The register of the season, as the crew wrote it. Everything is invented.

const seasonTOML = `# An invented season, to try the program on.
name = "Quiet Gully 2026"
time_zone = "-03:00"

[[reference]]
name = "string grid"
kind = "grid"
pitch_cm = 10
squares = "7x6"

[[reference]]
name = "board"
kind = "checker"
squares = "7x5"
square_cm = 2

[[reference]]
name = "card 5"
kind = "card"
card = 5
check_line_mm = 99.8
arrow = "magnetic"

[[reference]]
name = "card 6"
kind = "card"
card = 6
check_line_mm = 99.8
arrow = "magnetic"
origin = "corner"

[[mix]]
name = "bottle A"
resin = "acrylic resin"
percent = 8
basis = "w/v"
solvent = "acetone"
soluble_in = "acetone"

[people]
RKA = { name = "R. Kallio-Arroyo", may_print = true }
TMO = { name = "T. Mora-Oduya", may_print = false }

[print]
positions = "locality number"
`

// sheets are the sheets of the workbook by name, as CSV.
var sheets = map[string]string{
	"finds": `field_number,date,what,by,context,locality,horizon,element,side,end_1,end_2,long_axis_bearing_deg,north_reference,condition
21,2026-02-11,large long bone,RKA,in situ,QG-1,grey silt,femur,left,proximal,distal,115,magnetic,cracked across the shaft
22,2026-02-11,flat piece beside 21,RKA,in situ,QG-1,grey silt,,,,,,,
23,2026-02-11,row of vertebrae with ribs,RKA,in situ,QG-1,grey silt,vertebrae and ribs,,head end,tail end,40,magnetic,weathered on top
24,2026-02-12,long bone,TMO,in situ,QG-2,red sandstone,tibia,right,proximal,distal,,,firm
25,2026-02-13,tooth,TMO,float,QG-2,,tooth,,,,,,
`,
	"jackets": `jacket,finds,kind,stage,pieces,formerly,length_cm,width_cm,depth_cm,matrix,separator,layers,splints,bone_to_plaster_mm,open_side,waiver
21,21;22,jacket,mapped,,,70,45,25,silt,wet paper,4,,25,,
23A,23,jacket,mapped,1 of 2,23,60,50,30,silt,wet paper,,,,,
23B,23,jacket,mapped,2 of 2,23,55,50,30,silt,wet paper,,,,,"gridded: undercut too steep to lay a board, TMO"
24,24,jacket,lifted,,,60,36,30,sandstone,aluminium foil,5,one steel rod along the field bottom,30,field bottom,
V1,25,vial,found,,,,,,,,,,,,
`,
	"setups": `setup,jackets,pitch_cm,squares,letters_run,plane,depth_to_bone_cm
S1,21,10,7x6,,level,4.3
S2,24,10,7x6,clockwise,level,4.3
S3,21,,,,level,
S4,21,10,7x6,,level,
`,
	"localities": `locality,name,position,datum,position_source,position_uncertainty_m,altitude_m,formation,age,landowner,permit,permit_until
QG-1,Quiet Gully foot,"-47.50021, -42.24958",WGS84,handheld receiver,5,512,invented beds,not dated,invented holding,X-000,2026-12-31
QG-2,Quiet Gully shelf,"-47.50024, -42.24952",WGS84,handheld receiver,5,520,invented beds,not dated,invented holding,X-000,2026-12-31
`,
	"diary": `date,numbers,what,by,kind,mix,where,coats,time,stage
2026-02-11,21,crack consolidated,RKA,glue,bottle A,mid shaft,2,11:10,
2026-02-11,21,string and board laid and photographed,RKA,,,,,11:50,mapped
2026-02-11,23A;23B,ribs left untreated at the tail end for samples,RKA,,,,,16:30,
2026-02-12,24,whole surface hardened,TMO,consolidant,bottle A,all exposed bone,1,12:20,
2026-02-12,24,foil laid before the plaster,TMO,separator,,,,15:00,
2026-02-13,24,lifted without loss,TMO,,,,,11:50,lifted
2026-02-13,V1,tooth picked up and put in cotton wool,TMO,,,,,14:20,
`,
}

// track is what a handheld receiver wrote on 12 February 2026, by which a photo without a position gets one.
const track = `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="invented" xmlns="http://www.topografix.com/GPX/1/1">
  <trk><name>QG-2</name><trkseg>
    <trkpt lat="-47.500241" lon="-42.249523"><ele>519</ele><time>2026-02-12T16:56:40Z</time></trkpt>
    <trkpt lat="-47.500243" lon="-42.249521"><ele>520</ele><time>2026-02-12T16:58:40Z</time></trkpt>
    <trkpt lat="-47.500238" lon="-42.249519"><ele>520</ele><time>2026-02-12T17:00:10Z</time></trkpt>
  </trkseg></trk>
</gpx>
`

// photosCSV is a person's word on photos.
const photosCSV = `photos,jackets,view,setup,caption,chosen,leave_out,by
IMG_0415-0416,21,gridded,S1,,,,RKA
IMG_0401,21,gridded,S3,,,,TMO
IMG_0425-0427,21,gridded,S4,,,,RKA
IMG_0393-0394,24,gridded,S2,,,,TMO
IMG_0395,24,jacketed,S2,,,,TMO
tmo/IMG_0388,23B,setting,,,,,TMO
tmo/IMG_0389,23B,bone,,ribs seen from the tail end,,,TMO
tmo/IMG_0390,23B,close,,,,,TMO
tmo/IMG_0398-0399,V1,setting,,,,,TMO
`

// made is what a run of the season has to come to.
var made = Expected{
	Photos:     len(shots) + 1,
	Scaled:     11,
	Unreadable: 1,
	Unassigned: 4,
	Conflicts:  1,
	Incomplete: 1,
	Lacking:    []string{"23A: gridded"},
	Ready:      []string{"21", "23B"},
	Told:       []string{`folder = "pla"`, "ahead_s = 3600", "2 photos not copied over: IMG_0053 to IMG_0054"},
}
