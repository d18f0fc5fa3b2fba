package book

import (
	"encoding/csv"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// csvHead names the columns of CSV. Their order stays; new ones come behind.
var csvHead = []string{"at", "machine", "kind", "what", "quantity", "value", "unit", "by", "struck",
	"written", "id", "action", "session"}

// CSV writes lines as a table for spreadsheets (RFC 4180): a head, then a row an entry, each ended
// by CR LF. Times are those of RFC 3339 in the zone of now. Quantity, value and unit are a reading,
// a value measured, or a count of the drawer. A text that a spreadsheet would take for a formula
// begins with an apostrophe, which it does not show.
func CSV(lines []Line, machine func(model.Entry) string, now time.Time) (string, error) {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	if err := w.Write(csvHead); err != nil {
		return "", err
	}
	for _, l := range lines {
		e := l.Entry
		quantity, value, unit := amount(e)
		struck := ""
		if l.Struck {
			struck = "struck"
		}
		row := []string{rfc3339(e.At, now), theme.NoFormula(machine(e)), theme.NoFormula(string(e.Kind)),
			theme.NoFormula(l.Text), theme.NoFormula(quantity), value, theme.NoFormula(unit), theme.NoFormula(e.By), struck,
			rfc3339(e.Written, now), theme.NoFormula(e.ID), theme.NoFormula(e.Action), theme.NoFormula(e.Session)}
		if err := w.Write(row); err != nil {
			return "", err
		}
	}
	w.Flush()
	return b.String(), w.Error()
}

func rfc3339(t, now time.Time) string { return t.In(now.Location()).Format(time.RFC3339) }

// amount is the one number an entry is about, "" for none.
func amount(e model.Entry) (quantity, value, unit string) {
	switch {
	case e.Reading != nil:
		return string(e.Reading.Meter), model.Decimal(e.Reading.Value), e.Reading.Meter.Unit()
	case e.Value != nil:
		return e.Value.Name, model.Decimal(e.Value.Value), e.Value.Unit
	case e.Stock != nil && e.Stock.Counted != nil:
		return e.Stock.Part + " counted", model.Decimal(*e.Stock.Counted), ""
	case e.Stock != nil && e.Stock.Change != 0:
		return e.Stock.Part, model.Decimal(e.Stock.Change), ""
	}
	return "", "", ""
}
