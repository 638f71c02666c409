//! What a family must be able to say: a bow of more than half a circle, square tube, three lengths of post in one
//! house, a length that is no whole number of bays. Written as someone from outside might write it.
