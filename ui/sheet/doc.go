// Package sheet makes pages that are printed: what is due, a machine, a session done, and the blank
// sheet of a session to come. A page is made once and written as Markdown or as one HTML file that
// needs nothing beside it and fits A4 and Letter. It is pure.
package sheet

import (
	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/book"
)

// Doc is one sheet.
type Doc struct {
	Title string
	Under []string // lines below the title
	Parts []Part
	Foot  []string
}

// Part is one part of a sheet under its heading; what is empty is left out.
type Part struct {
	Head   string
	Text   []string
	Rows   [][]string // of a table without a head; the first cell names the row
	List   []string
	Ticks  []string // a list of boxes to tick
	Gauges []Gauge
	Steps  []Step
}

// Gauge is a gauge with what is said of it.
type Gauge struct {
	model.Gauge
	When string
	Tick bool // a box to tick stands before it
}

// Step is a step of a blank sheet, with the cautions that stand before it.
type Step struct {
	Number   int
	Cautions []model.Caution
	procedures.SheetStep
}

// notCertified stands below what is a record.
const notCertified = book.NoCertificate + " The machine maker's word and local codes rule."
