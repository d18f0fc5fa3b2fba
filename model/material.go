package model

import (
	"slices"
	"strings"
)

// Material is one polymer: how it is dried and printed, and what it wears. The figures are bands of
// a circulating-air dryer; the lowest limit of polymer, spool and dryer wins.
type Material struct {
	ID       string   `json:"id"`
	Name     string   `json:"name"`
	Also     []string `json:"also,omitempty"` // other names, as print files and rolls write them
	Dry      Range    `json:"dry"`            // °C
	Hours    Range    `json:"dry_hours"`      // for a 1 kg roll that was open for weeks
	Abrasive float64  `json:"abrasive"`       // abrasive-hours an hour of printing counts, 0..1
	Styrenic float64  `json:"styrenic"`       // styrenic-hours an hour of printing counts, 0..1
	Nozzle   Range    `json:"nozzle"`         // °C
	Bed      Range    `json:"bed"`            // °C
	Chamber  string   `json:"chamber"`        // door and top
	Fume     string   `json:"fume"`           // what it gives off, and what to do
	Need     string   `json:"moisture"`       // how dry it must be: a word of MoistureNeeds
	// % relative humidity to keep a waiting roll at, at most
	Humidity float64 `json:"humidity"`
	Note     string  `json:"note,omitempty"`
	Banned   bool    `json:"banned"` // never dried, never printed
	Basis    string  `json:"basis"`
}

// Range is from low to high; both 0 where nothing is given.
type Range struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// Zero tells that nothing is given.
func (r Range) Zero() bool { return r == Range{} }

// MoistureNeeds are the words of Material.Need, from the least.
var MoistureNeeds = []string{"very low", "low", "low to medium", "medium", "medium to high", "high",
	"very high", "extreme"}

// FindMaterial gives the material of a name or id, without regard to capitals, spaces and hyphens;
// nil where there is none. It never guesses: "unknown" is a material of its own.
func FindMaterial(list []Material, name string) *Material {
	key := foldMaterial(name)
	for i := range list {
		m := &list[i]
		if foldMaterial(m.ID) == key || foldMaterial(m.Name) == key ||
			slices.ContainsFunc(m.Also, func(s string) bool { return foldMaterial(s) == key }) {
			return m
		}
	}
	return nil
}

func foldMaterial(s string) string {
	return strings.NewReplacer(" ", "", "-", "", "_", "", "/", "").Replace(strings.ToLower(s))
}
