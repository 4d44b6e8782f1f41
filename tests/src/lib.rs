//! Tests of the whole, against things outside the project; ../README.md says which kinds there are and how to add a case.

#[cfg(test)]
mod closed_forms;
#[cfg(test)]
mod convergence;
#[cfg(test)]
mod elastica;
#[cfg(test)]
mod elbow;
#[cfg(test)]
mod elliptic;
#[cfg(test)]
mod layouts;
#[cfg(test)]
mod lie_cases;
#[cfg(test)]
mod properties;
#[cfg(test)]
mod referee;
#[cfg(test)]
mod robust;
#[cfg(test)]
mod sag;
#[cfg(test)]
mod stability;
#[cfg(test)]
mod statics;
#[cfg(test)]
mod tidy;
