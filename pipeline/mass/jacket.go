package mass

// Plaster of a jacket, kg/m³, for 70 parts of water on 100 of plaster: 99.0 lb/ft³ wet and 69.0 dry (a maker's table for
// moulding and pottery plaster, read), at 16.018 kg/m³ each.
const (
	wetPlasterKgM3 = 99.0 * 16.018
	dryPlasterKgM3 = 69.0 * 16.018
)

// Burlap of 7 and of 12 oz/yd², kg/m² (an ounce on a square yard is 33.906 g/m²; that these two are the usual is from
// memory).
const (
	lightBurlapKgM2 = 7 * 0.033906
	heavyBurlapKgM2 = 12 * 0.033906
)

// Thickness of plaster in mm (common practice, no source): of one layer of burlap with its plaster, and of a jacket whose
// layers nobody counted, with the layers assumed for its burlap.
const (
	thinLayerMm, thickLayerMm   = 3.0, 6.0
	thinJacketMm, thickJacketMm = 10.0, 30.0
	fewLayers, manyLayers       = 3, 6
)

// jacketKg gives the least and the most that plaster and burlap over an area weigh: dry and thin, wet and thick. layers 0:
// not counted.
func jacketKg(areaM2 float64, layers int) (dry, wet float64) {
	thin, thick := thinJacketMm, thickJacketMm
	few, many := fewLayers, manyLayers
	if layers > 0 {
		thin, thick = thinLayerMm*float64(layers), thickLayerMm*float64(layers)
		few, many = layers, layers
	}
	dry = areaM2 * (thin/1000*dryPlasterKgM3 + float64(few)*lightBurlapKgM2)
	wet = areaM2 * (thick/1000*wetPlasterKgM3 + float64(many)*heavyBurlapKgM2)
	return dry, wet
}
