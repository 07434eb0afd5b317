package seal

import "time"

// Document is what the caller drew and what the record has to carry.
type Document struct {
	// PDF is the output of fpdf, version 0.9, with fixed dates and
	// SetCatalogSort(true). Every font must be embedded.
	PDF []byte
	// Title and Language (a BCP 47 tag such as "en" or "es") are shown and read
	// out by viewers; both are needed.
	Title, Language string
	// Producer names the program that made the document; may be empty.
	Producer string
	// Created dates the document, its metadata and its attachments.
	Created time.Time
	// Attachments keep their order. Names must be unique.
	Attachments []Attachment
	// CustomerField is the empty signature field for the other party; nil for none.
	CustomerField *Field
	// Structure is the document in reading order, for assistive technology; nil
	// for a document without tags.
	Structure []Element
	// ToUnicode is a character map (ISO 32000-1, 9.10.3) for every font of one-byte
	// codes, to which fpdf gives none; nil where there is no such font.
	ToUnicode []byte
}

// Attachment is a file inside the record.
type Attachment struct {
	// Name is the file's name, without a folder.
	Name string
	// MIME is the media type, such as "text/csv".
	MIME string
	// Description is shown by viewers beside the name; may be empty.
	Description string
	// Relationship says what the file is to the document.
	Relationship Relationship
	Data         []byte

	packed []byte // Data compressed; set by Pack
}

// Relationship is the value of AFRelationship (ISO 19005-3, annex E).
type Relationship string

// The relationships of ISO 19005-3. The record's inputs are Source, its results
// are Data, and whatever is neither is Supplement.
const (
	Source      Relationship = "Source"
	Data        Relationship = "Data"
	Alternative Relationship = "Alternative"
	Supplement  Relationship = "Supplement"
	Unspecified Relationship = "Unspecified"
)

// Field is where the other party may sign later, with software of their own.
type Field struct {
	// Page counts from 0.
	Page int
	// Rect is the lower left x and y and the upper right x and y, in points (1/72
	// inch) from the page's lower left corner. The caller draws the box and its
	// label; the field itself is blank until it is signed.
	Rect [4]float64
	// Label is what viewers show and read out for the field.
	Label string
}

// Element is one element of the document's structure tree.
type Element struct {
	// Kind is a standard structure type of ISO 32000-1, 14.8.4: Sect, H1 to H6, P,
	// L, LI, Lbl, LBody, Table, THead, TBody, TR, TH, TD, Figure, Caption, Span,
	// Note and so on.
	Kind string
	// Alt describes a Figure in words.
	Alt string
	// Lang is given only where it differs from the document's.
	Lang string
	// Scope of a TH: "Row", "Column" or "Both"; empty otherwise.
	Scope string
	// ColSpan and RowSpan of a TH or TD; 0 means 1.
	ColSpan, RowSpan int
	// Content is the marked content that the element owns, before its children.
	Content []Marked
	// Children in reading order.
	Children []Element
}

// Marked is one marked-content sequence: drawn by the caller between
//
//	/P <</MCID 7>> BDC
//	...
//	EMC
//
// where the tag is the element's Kind and the number is unique on its page.
type Marked struct {
	Page int // counts from 0
	MCID int
}
