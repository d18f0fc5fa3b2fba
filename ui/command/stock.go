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
		return "not counted in the drawer", nil
	case *s.Count == 0:
		return "none left in the drawer", nil
	case s.Low():
		return model.Number(*s.Count) + " left in the drawer, at or below its minimum: order", nil
	}
	return model.Number(*s.Count) + " left in the drawer", nil
}
