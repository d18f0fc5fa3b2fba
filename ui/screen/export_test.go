package screen

import "time"

// What the tests beside the package look into.

func (e *Env) Look(now time.Time) (*Data, error) { return e.look(now) }

func (r *Root) Data() *Data { return r.data }

func (r *Root) Forget() { r.data = nil }

func Forecasted(of, data *Data) any { return forecasted{of: of, data: data} }

func Polled(d *Data) any { return polled{Data: d} }
