package command

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
)

func drawerCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use: "drawer", Short: "the spares in stock, and what to order",
		Long: "The spares in stock, what to order, and by when: so that the chance of an empty drawer within\n" +
			"the lead time stays under 5 %, by the forecasts of all machines and the lives of their parts,\n" +
			"and before the minimum you keep is more likely reached than not.",
		Example: "  oilcan drawer\n  oilcan drawer count blade=3 --minimum 2 --lead 6\n  oilcan drawer receive blade=5",
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return unknownCommand(cmd, args[0])
			}
			return showDrawer(a)
		},
	}
}

// stockRow is a part of the drawer as programs read it.
type stockRow struct {
	Part    string   `json:"part"`
	Count   *float64 `json:"count"`
	Minimum float64  `json:"minimum"`
	Lead    int      `json:"lead_days"` // what the date rests on
	Told    bool     `json:"lead_told"` // false: nobody told it, it is from memory
	OrderBy *string  `json:"order_by"`  // a day; null while there is enough
	Price   *float64 `json:"price"`     // of one; null where nobody told it
}

func showDrawer(a *app) error {
	b, err := a.bench()
	if err != nil {
		return err
	}
	rows, advice := []stockRow{}, life.Orders(b, a.procs(), a.now())
	for _, x := range advice {
		s := b.Drawer[x.Part]
		rows = append(rows, stockRow{x.Part, s.Count, s.Minimum, x.Lead, s.Lead > 0,
			orderBy(x, a.now()), s.Price})
	}
	if a.flags.json {
		return a.writeJSON(rows)
	}
	if len(rows) == 0 {
		a.say("nothing is counted yet: oilcan drawer count blade=3 wiper=2 …")
		return nil
	}
	t := table{right: []int{1}}
	for i, r := range rows {
		held, note := "?", "not counted"
		if r.Count != nil {
			held, note = model.Number(*r.Count), ""
		}
		if x := advice[i]; x.OrderBy != nil {
			note = fmt.Sprintf("order %d by %s", x.Order, *r.OrderBy)
			if x.OrderBy.Sub(a.now()) < 24*time.Hour {
				note = fmt.Sprintf("order %d now", x.Order)
			}
			if x.OrderBy.Sub(a.now()) < 30*24*time.Hour {
				note += ": " + x.Why
			}
		}
		minimum := ""
		if r.Minimum > 0 {
			minimum = "minimum " + model.Number(r.Minimum)
		}
		if r.Price != nil {
			minimum = strings.TrimPrefix(minimum+" · "+model.Money(r.Price, a.cfg.Currency)+" each", " · ")
		}
		t.add(r.Part, held, minimum, note)
	}
	t.write(a)
	return nil
}

// orderBy is the last day to order a part, nil where there is enough for two years or it is not
// counted.
func orderBy(x life.Advice, now time.Time) *string {
	if x.OrderBy == nil {
		return nil
	}
	d := model.Day(*x.OrderBy, now)
	return &d
}
