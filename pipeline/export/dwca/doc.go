// Package dwca writes Darwin Core archives: tables of text with a description of their columns and of the data set.
//
// You want [Archive] and its Meta and EML; a [Table] has one row a record, and each column is a [Term] named by its address.
//
// Sources: TDWG, Darwin Core text guide (http://rs.tdwg.org/dwc/terms/guides/text/, 2021-07-15) for meta.xml and the tables; Ecological
// Metadata Language 2.1.1 (eml://ecoinformatics.org/eml-2.1.1) for eml.xml; the terms' sources stand beside them.
package dwca
