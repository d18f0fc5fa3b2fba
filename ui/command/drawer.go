package command

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/ui/action"
)

// stockFlags are what count and receive may say beside the number.
type stockFlags struct{ minimum, lead, pack string }

func (a *app) drawerCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "drawer", Short: "the spares in stock, and what to order",
		Long: "The spares in stock, what to order, and by when: so that the chance of an empty drawer within\n" +
			"the lead time stays under 5 %, by the forecasts of all machines and the lives of their parts,\n" +
			"and before the minimum you keep is more likely reached than not.",
		Example: "  oilcan drawer\n  oilcan drawer count blade=3 --minimum 2 --lead 6\n  oilcan drawer receive blade=5",
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return unknownCommand(cmd, args[0])
			}
			return a.drawer()
		},
	}
	c.AddCommand(a.stockCommand("count", "count what is there",
		"  oilcan drawer count blade=3 wiper=1\n  oilcan drawer count blade --minimum 2 --lead 6 --pack 5", false),
		a.stockCommand("receive", "what was delivered", "  oilcan drawer receive blade=5", true))
	return c
}

func (a *app) stockCommand(use, text, example string, receive bool) *cobra.Command {
	var f stockFlags
	c := &cobra.Command{
		Use: use + " PART=N…", Short: text, Example: example,
		Long: text + ". Parts and supplies: " + strings.Join(model.SupplyNames, ", ") + ".",
		Args: between(1, -1, "parts with their numbers"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			var out []string
			for _, p := range hyphened(model.SupplyNames) {
				out = append(out, p+"=")
			}
			return out, noFiles | cobra.ShellCompDirectiveNoSpace
		},
		RunE: func(_ *cobra.Command, args []string) error { return a.stock(args, f, receive) },
	}
	c.Flags().StringVar(&f.minimum, "minimum", "", "order when no more than this `number` is left")
	c.Flags().StringVar(&f.lead, "lead", "", "how many `days` a delivery takes")
	c.Flags().StringVar(&f.pack, "pack", "", "how `many` come in a pack")
	return c
}

// moves reads PART=N and the flags into stock moves.
func (f stockFlags) moves(args []string, receive bool) ([]*model.StockMove, error) {
	var out []*model.StockMove
	flagged := f.minimum != "" || f.lead != "" || f.pack != ""
	for _, arg := range args {
		name, number, ok := strings.Cut(arg, "=")
		if !ok && (receive || !flagged) {
			return nil, misuse("%q has no number: write %s=3", arg, arg)
		}
		part, err := action.Find("part", name, model.SupplyNames)
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(out, func(m *model.StockMove) bool { return m.Part == part }) {
			return nil, misuse("%s is named twice: name it once", part)
		}
		move := &model.StockMove{Part: part}
		if ok {
			n, err := model.ReadAmount(number, "", nil)
			switch {
			case err != nil:
				return nil, err
			case receive && n == 0:
				return nil, misuse("nothing of %s was received: give a number above 0", part)
			case receive:
				move.Change, move.Why = n, "received"
			default:
				move.Counted, move.Why = &n, "counted"
			}
		}
		if err := f.apply(move); err != nil {
			return nil, err
		}
		out = append(out, move)
	}
	return out, nil
}

// apply puts the flags into a move.
func (f stockFlags) apply(m *model.StockMove) error {
	if f.minimum != "" {
		n, err := model.ReadAmount(f.minimum, "", nil)
		if err != nil {
			return err
		}
		m.Minimum = &n
	}
	for _, x := range []struct {
		flag, text, unit string
		low              int
		into             **int
	}{{"lead", f.lead, "d", 0, &m.Lead}, {"pack", f.pack, "", 1, &m.Pack}} {
		if x.text == "" {
			continue
		}
		n, err := model.ReadCount(x.text, x.unit, 10000)
		switch {
		case errors.As(err, &model.TwoWays{}):
			return fmt.Errorf("--%s: %w", x.flag, err)
		case err != nil || n < x.low:
			return misuse("--%s is a whole number from %d, not %q", x.flag, x.low, x.text)
		}
		*x.into = &n
	}
	return nil
}

func (a *app) stock(args []string, f stockFlags, receive bool) error {
	at, err := a.when()
	if err != nil {
		return err
	}
	moves, err := f.moves(args, receive)
	if err != nil {
		return err
	}
	var facts []model.Fact
	for _, m := range moves {
		facts = append(facts, model.Fact{Kind: model.KindStock, Stock: m})
	}
	entries, err := a.append(nil, at, facts)
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.writeJSON(entries)
	}
	for i, m := range moves {
		left, err := a.leftOf(m.Part)
		if err != nil {
			return err
		}
		a.say("%s: %s   undo: oilcan strike %s --why …", m.Part, left, short(entries[i].ID))
	}
	return nil
}

// stockRow is a part of the drawer as programs read it.
type stockRow struct {
	Part    string   `json:"part"`
	Count   *float64 `json:"count"`
	Minimum float64  `json:"minimum"`
	Lead    int      `json:"lead_days"`
	OrderBy *string  `json:"order_by"` // a day; null while there is enough
}

func (a *app) drawer() error {
	b, err := a.bench()
	if err != nil {
		return err
	}
	var ms []*model.Machine
	for _, id := range slices.Sorted(maps.Keys(b.Machines)) {
		ms = append(ms, b.Machines[id])
	}
	spares := life.NewSpares(ms, a.procs(), life.Booked(ms), a.now())
	rows, advice := []stockRow{}, []life.Advice{}
	for _, part := range model.SupplyNames {
		if s := b.Drawer[part]; s != nil {
			x := spares.Advise(*s, life.EmptyShare)
			rows = append(rows, stockRow{part, s.Count, s.Minimum, s.Lead, orderBy(x, a.now())})
			advice = append(advice, x)
		}
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
		t.add(r.Part, held, minimum, note)
	}
	t.write(a)
	return nil
}

// orderBy is the last day to order a part, nil where there is enough for two years or it is not counted.
func orderBy(x life.Advice, now time.Time) *string {
	if x.OrderBy == nil {
		return nil
	}
	d := model.Day(*x.OrderBy, now)
	return &d
}
