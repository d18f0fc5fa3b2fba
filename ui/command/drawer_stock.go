package command

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
)

// stockFlags are what count and receive may say beside the number.
type stockFlags struct{ minimum, lead, pack, price string }

func drawerCountCommand(a *app) *cobra.Command {
	return stockCommand(a, "count", "count what is there",
		"  oilcan drawer count blade=3 wiper=1\n  oilcan drawer count blade --minimum 2 --lead 6 --pack 5", false)
}

func drawerReceiveCommand(a *app) *cobra.Command {
	return stockCommand(a, "receive", "what was delivered", "  oilcan drawer receive blade=5", true)
}

func stockCommand(a *app, use, text, example string, receive bool) *cobra.Command {
	var f stockFlags
	c := &cobra.Command{
		Use: use + " PART=N…", Short: text, Example: example,
		Long: text + ". Parts and supplies: " + strings.Join(model.SupplyNames, ", ") + ".",
		Args: between(1, -1, "parts with their numbers"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string,
			cobra.ShellCompDirective) {
			var out []string
			for _, p := range hyphened(model.SupplyNames) {
				out = append(out, p+"=")
			}
			return out, noFiles | cobra.ShellCompDirectiveNoSpace
		},
		RunE: func(_ *cobra.Command, args []string) error { return logStock(a, args, f, receive) },
	}
	c.Flags().StringVar(&f.minimum, "minimum", "",
		"order when no more than this `number` is in stock")
	c.Flags().StringVar(&f.lead, "lead", "", "how many `days` a delivery takes")
	c.Flags().StringVar(&f.pack, "pack", "", "how `many` come in a pack")
	c.Flags().StringVar(&f.price, "price", "", "what one costs, an `amount` in your currency")
	return c
}

// moves reads PART=N and the flags into stock moves.
func (f stockFlags) moves(args []string, receive bool) ([]*model.StockMove, error) {
	var out []*model.StockMove
	flagged := f != stockFlags{}
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
	if f.price != "" {
		n, err := model.ReadAmount(f.price, "", nil)
		if err != nil {
			return fmt.Errorf("--price: %w", err)
		}
		m.Price = &n
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

func logStock(a *app, args []string, f stockFlags, receive bool) error {
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
		left, err := leftInDrawer(a, m.Part)
		if err != nil {
			return err
		}
		a.say("%s: %s   undo: oilcan strike %s --why …", m.Part, left, short(entries[i].ID))
	}
	return nil
}
