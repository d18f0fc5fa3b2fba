// Package figured gathers what the figures of machines are made of, for both front ends.
package figured

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/figures"
	"bench/oilcan/store"
	"bench/oilcan/ui/theme"
)

// Months is how many are looked back at, the current one among them: as far as readings are kept by
// the day.
const Months = 12

// Store is what is needed of the data file.
type Store interface {
	Entries(store.Filter) ([]model.Entry, error)
}

// Of sums up machines of a bench. It reads all their entries.
func Of(st Store, b *model.Bench, ms []*model.Machine, procs []*model.Procedure, now time.Time) (
	[]figures.Figures, error) {
	out := []figures.Figures{}
	for _, m := range ms {
		entries, err := st.Entries(store.Filter{Machine: m.ID, NoSteps: true})
		if err != nil {
			return nil, err
		}
		out = append(out, figures.Of(figures.Given{Machine: m, Entries: entries,
			Struck: model.Struck(
				entries), Procs: procs, Drawer: b.Drawer, Months: Months, Now: now}))
	}
	return out, nil
}

// Hours writes whole hours printed; "" where none were read.
func Hours(h *float64) string {
	if h == nil {
		return ""
	}
	return model.Hours.Amount(math.Round(*h))
}

// Minutes writes minutes of hands or of waiting.
func Minutes(v float64) string { return model.Minutes(v) + " min" }

// csvHead names the columns of CSV. Their order stays; new ones come behind.
var csvHead = []string{"machine", "month", "printed_h", "hands_min", "waited_min", "sessions",
	"renewed", "cost", "currency", "stops", "failed_prints"}

// CSV writes the months of machines as a table for spreadsheets (RFC 4180), as the book does.
func CSV(fs []figures.Figures, currency string) (string, error) {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	rows := [][]string{csvHead}
	for _, f := range fs {
		for _, m := range f.Months {
			unit := currency
			if m.Cost == nil {
				unit = ""
			}
			rows = append(rows, []string{theme.NoFormula(f.Machine), m.Month, decimal(m.Hours),
				decimal(&m.Hands), decimal(&m.Waited), strconv.Itoa(m.Sessions),
				strconv.Itoa(m.Renewed),
				decimal(m.Cost), theme.NoFormula(unit), strconv.Itoa(m.Stops), strconv.Itoa(
					m.Failed)})
		}
	}
	err := w.WriteAll(rows)
	return b.String(), err
}

// decimal is a number of the table, rounded to hundredths; "" where it is not known.
func decimal(v *float64) string {
	if v == nil {
		return ""
	}
	return model.Decimal(math.Round(*v*100) / 100)
}
