//! Tests of the whole, against things outside the project; ../README.md says which kinds there are and how to add a case.

#[cfg(test)]
mod cases;
#[cfg(test)]
mod cases_car;
#[cfg(test)]
mod cases_chance;
#[cfg(test)]
mod cases_fill;
#[cfg(test)]
mod cases_fit;
#[cfg(test)]
mod cases_flow;
#[cfg(test)]
mod cases_heat;
#[cfg(test)]
mod cases_helps;
#[cfg(test)]
mod cases_lie;
#[cfg(test)]
mod cases_mended;
#[cfg(test)]
mod cases_near;
#[cfg(test)]
mod cases_pressure;
#[cfg(test)]
mod cases_rock;
#[cfg(test)]
mod cases_square;
#[cfg(test)]
mod cases_turned;
#[cfg(test)]
mod circuit;
#[cfg(test)]
mod circuit_any;
#[cfg(test)]
mod circuit_faults;
#[cfg(test)]
mod circuit_picture;
#[cfg(test)]
mod circuit_referee;
#[cfg(test)]
mod closed_forms;
#[cfg(test)]
mod closures;
#[cfg(test)]
mod contact;
#[cfg(test)]
mod contact_robust;
#[cfg(test)]
mod convergence;
#[cfg(test)]
mod coolant_any;
#[cfg(test)]
mod coolant_boiling;
#[cfg(test)]
mod coolant_flow;
#[cfg(test)]
mod coolant_properties;
#[cfg(test)]
mod coolant_refill;
#[cfg(test)]
mod cut_list;
#[cfg(test)]
mod cut_list_told;
#[cfg(test)]
mod door_types;
#[cfg(test)]
mod doors;
#[cfg(test)]
mod doors_any;
#[cfg(test)]
mod doors_run;
#[cfg(test)]
mod edge_cases;
#[cfg(test)]
mod elastica;
#[cfg(test)]
mod elbow;
#[cfg(test)]
mod elliptic;
#[cfg(test)]
mod files;
#[cfg(test)]
mod fill;
#[cfg(test)]
mod fuzz;
#[cfg(test)]
mod gaps;
#[cfg(test)]
mod grip;
#[cfg(test)]
mod guided;
#[cfg(test)]
mod guided_cases;
#[cfg(test)]
mod guided_robust;
#[cfg(test)]
mod heat;
#[cfg(test)]
mod how;
#[cfg(test)]
mod how_good;
#[cfg(test)]
mod json;
#[cfg(test)]
mod kink;
#[cfg(test)]
mod layouts;
#[cfg(test)]
mod legs;
#[cfg(test)]
mod legs_clips;
#[cfg(test)]
mod lie_cases;
#[cfg(test)]
mod lies_found;
#[cfg(test)]
mod lies_pushed;
#[cfg(test)]
mod links;
#[cfg(test)]
mod mirrored;
#[cfg(test)]
mod order;
#[cfg(test)]
mod properties;
#[cfg(test)]
mod referee;
#[cfg(test)]
mod robust;
#[cfg(test)]
mod sag;
#[cfg(test)]
mod shopping;
#[cfg(test)]
mod stability;
#[cfg(test)]
mod statics;
#[cfg(test)]
mod table;
#[cfg(test)]
mod tidy;
#[cfg(test)]
mod tidy_trust;
#[cfg(test)]
mod typed_car;
#[cfg(test)]
mod whole_jobs;
#[cfg(test)]
mod whole_properties;
#[cfg(test)]
mod words;
#[cfg(test)]
mod work_again;
