"""Reads a store with h5py, as somebody else's reader would, and prints what is in it."""
import sys

import h5py

with h5py.File(sys.argv[1], "r") as store:
    print("made_by", store.attrs["made_by"])
    print("layout", store.attrs["layout"])
    print("complete", store.attrs["complete"])
    print("title", store["question/title"].asstr()[()])
    print("rows", len(store["series/time"]))
    print("height_unit", store["series/height"].attrs["unit"])
    for n, name in enumerate(sorted(store["states"])):
        water = store["states"][name]["water"]
        print(f"state_{n}", *water.shape, repr(float(water[-1, -1, -1])), water.attrs["unit"], water.dtype.str)
    for n, name in enumerate(sorted(store["pictures"])):
        velocity = store["pictures"][name]["fields/air_velocity"]
        print(f"picture_{n}", *velocity.shape, velocity.dtype.str)
