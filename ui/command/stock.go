package command

import "bench/oilcan/model"

// leftInDrawer says what the drawer holds of a part.
func leftInDrawer(a *app, part string) (string, error) {
	b, err := a.bench()
	if err != nil {
		return "", err
	}
	s := b.Drawer[part]
	switch {
	case s == nil || s.Count == nil:
		return "stock not counted", nil
	case *s.Count == 0:
		return "none in stock", nil
	case s.Low():
		return model.Number(*s.Count) + " in stock, at or below the minimum: order", nil
	}
	return model.Number(*s.Count) + " in stock", nil
}
