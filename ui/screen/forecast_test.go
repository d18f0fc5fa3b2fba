package screen_test

import (
	"testing"

	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
)

// The first look draws without the forecast; the forecast and what to order follow by themselves,
// and only while no later look has come.
func TestForecastFollowsTheFirstLook(t *testing.T) {
	d := screentest.Plain(t)
	first, err := d.E.Look(screentest.Now)
	if err != nil {
		t.Fatal(err)
	}
	told := func(x *screen.Data) bool {
		return x.Gauges["m1"][0].Forecast != nil || x.Gauges["m1"][4].Forecast != nil
	}
	if told(first) || first.Buy != nil {
		t.Error("the first look waits for the forecast")
	}
	later := d.R.Data()
	d.Send(screen.Forecasted(first, first))
	if d.R.Data() != later {
		t.Error("the forecast of an older look is taken")
	}
	d.R.Forget()
	_, cmd := d.R.Update(screen.Polled(first))
	if d.R.Data() != first {
		t.Fatal("the first look is not shown")
	}
	d.Run(cmd)
	if !told(d.R.Data()) || d.R.Data().Buy == nil {
		t.Error("no forecast followed")
	}
	d.Shows("order now: blade ×1 (2 in stock")
}
