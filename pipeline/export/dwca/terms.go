package dwca

// A Term is a column by the address of what it means.
type Term string

// Row types: the core of occurrences, and the extensions for media and for measurements (GBIF, rs.gbif.org: dwc_occurrence_2025-07-10,
// audubon_2020_10_06, extended_measurement_or_fact_2023-08-28).
const (
	Occurrence  = "http://rs.tdwg.org/dwc/terms/Occurrence"
	Multimedia  = "http://rs.tdwg.org/ac/terms/Multimedia"
	Measurement = "http://rs.iobis.org/obis/terms/ExtendedMeasurementOrFact"
)

const (
	dwc     = "http://rs.tdwg.org/dwc/terms/"
	dcterms = "http://purl.org/dc/terms/"
	dc      = "http://purl.org/dc/elements/1.1/"
	ac      = "http://rs.tdwg.org/ac/terms/"
	xmp     = "http://ns.adobe.com/xap/1.0/"
	rights  = "http://ns.adobe.com/xap/1.0/rights/"
	exif    = "http://ns.adobe.com/exif/1.0/"
)

// Terms of occurrences (TDWG, Darwin Core quick reference, version of 2023-09-18; Dublin Core).
const (
	Type                  Term = dc + "type"
	Language              Term = dc + "language"
	License               Term = dcterms + "license"
	RightsHolder          Term = dcterms + "rightsHolder"
	AccessRights          Term = dcterms + "accessRights"
	DatasetID             Term = dwc + "datasetID"
	InstitutionCode       Term = dwc + "institutionCode"
	CollectionCode        Term = dwc + "collectionCode"
	DatasetName           Term = dwc + "datasetName"
	BasisOfRecord         Term = dwc + "basisOfRecord"
	InformationWithheld   Term = dwc + "informationWithheld"
	DataGeneralizations   Term = dwc + "dataGeneralizations"
	DynamicProperties     Term = dwc + "dynamicProperties"
	OccurrenceID          Term = dwc + "occurrenceID"
	CatalogNumber         Term = dwc + "catalogNumber"
	RecordNumber          Term = dwc + "recordNumber"
	RecordedBy            Term = dwc + "recordedBy"
	RecordedByID          Term = dwc + "recordedByID"
	AssociatedOccurrences Term = dwc + "associatedOccurrences"
	OtherCatalogNumbers   Term = dwc + "otherCatalogNumbers"
	OccurrenceRemarks     Term = dwc + "occurrenceRemarks"
	Preparations          Term = dwc + "preparations"
	Disposition           Term = dwc + "disposition"
	MaterialSampleID      Term = dwc + "materialSampleID"
	EventDate             Term = dwc + "eventDate"
	EventRemarks          Term = dwc + "eventRemarks"
	LocationID            Term = dwc + "locationID"
	VerbatimLocality      Term = dwc + "verbatimLocality"
	MinimumElevation      Term = dwc + "minimumElevationInMeters"
	MaximumElevation      Term = dwc + "maximumElevationInMeters"
	LocationRemarks       Term = dwc + "locationRemarks"
	DecimalLatitude       Term = dwc + "decimalLatitude"
	DecimalLongitude      Term = dwc + "decimalLongitude"
	GeodeticDatum         Term = dwc + "geodeticDatum"
	CoordinateUncertainty Term = dwc + "coordinateUncertaintyInMeters"
	VerbatimCoordinates   Term = dwc + "verbatimCoordinates"
	VerbatimSystem        Term = dwc + "verbatimCoordinateSystem"
	VerbatimSRS           Term = dwc + "verbatimSRS"
	GeoreferenceSources   Term = dwc + "georeferenceSources"
	GeoreferenceRemarks   Term = dwc + "georeferenceRemarks"
	Formation             Term = dwc + "formation"
	Member                Term = dwc + "member"
	Bed                   Term = dwc + "bed"
	VerbatimIdent         Term = dwc + "verbatimIdentification"
	ScientificName        Term = dwc + "scientificName"
)

// Terms of media (TDWG, Audiovisual Core, term list of 2020-10-06).
const (
	Identifier         Term = dcterms + "identifier"
	MediaType          Term = dcterms + "type"
	Title              Term = dcterms + "title"
	ProviderManagedID  Term = ac + "providerManagedID"
	MetadataLanguage   Term = ac + "metadataLanguageLiteral"
	Owner              Term = rights + "Owner"
	UsageTerms         Term = rights + "UsageTerms"
	WebStatement       Term = rights + "WebStatement"
	Creator            Term = dc + "creator"
	Description        Term = dcterms + "description"
	Caption            Term = ac + "caption"
	CreateDate         Term = xmp + "CreateDate"
	SubjectPart        Term = ac + "subjectPart"
	SubjectOrientation Term = ac + "subjectOrientation"
	Technique          Term = ac + "resourceCreationTechnique"
	DerivedFrom        Term = ac + "derivedFrom"
	SpecimenReference  Term = ac + "associatedSpecimenReference"
	AccessURI          Term = ac + "accessURI"
	Format             Term = dc + "format"
	HashFunction       Term = ac + "hashFunction"
	HashValue          Term = ac + "hashValue"
	PixelXDimension    Term = exif + "PixelXDimension"
	PixelYDimension    Term = exif + "PixelYDimension"
)

// Terms of measurements, beside [OccurrenceID].
const (
	MeasurementID       Term = dwc + "measurementID"
	MeasurementType     Term = dwc + "measurementType"
	MeasurementValue    Term = dwc + "measurementValue"
	MeasurementUnit     Term = dwc + "measurementUnit"
	MeasurementAccuracy Term = dwc + "measurementAccuracy"
	MeasurementMethod   Term = dwc + "measurementMethod"
	MeasurementBy       Term = dwc + "measurementDeterminedBy"
	MeasurementDate     Term = dwc + "measurementDeterminedDate"
	MeasurementRemarks  Term = dwc + "measurementRemarks"
)
