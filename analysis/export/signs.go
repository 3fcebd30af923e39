package export

func settleSigns(cs []column, o Options) (decisions []string, questions []Question) {
	for i := range cs {
		cs[i].settled, cs[i].orient, cs[i].hand = readable(cs[i]), 1, o.Hand
	}
	return nil, nil
}
