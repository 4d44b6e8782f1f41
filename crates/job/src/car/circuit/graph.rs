//! Blocks of a graph: edges that lie on a ring with each other.
//!
//! In a network of resistances fed at both ends of one edge, current goes through exactly those edges that lie on a ring
//! with it. petgraph has cut points and bridges but no such blocks; it would save the lists of edges alone.

/// The block of every open edge, by number; none for an edge that is shut or joins a node to itself.
///
/// J. Hopcroft and R. Tarjan, Algorithm 447: efficient algorithms for graph manipulation, Comm. ACM 16, 1973; without
/// recursion.
pub(super) fn blocks(nodes: usize, edges: &[[usize; 2]], open: &[bool]) -> Vec<Option<usize>> {
    let at = edges_at(nodes, edges, open);
    let mut block = vec![None; edges.len()];
    let mut blocks = 0;
    // In which order a node was found, from 1; and the earliest one that can be reached from behind it.
    let mut found = vec![0; nodes];
    let mut earliest = vec![0; nodes];
    let mut count = 0;
    let mut next = vec![0; nodes];
    let mut used = vec![false; edges.len()];
    let mut waiting = Vec::new();
    for root in 0..nodes {
        if found[root] != 0 {
            continue;
        }
        count += 1;
        (found[root], earliest[root]) = (count, count);
        let mut way = vec![(root, usize::MAX)];
        while let Some(&(here, by)) = way.last() {
            if let Some(&edge) = at[here].get(next[here]) {
                next[here] += 1;
                if std::mem::replace(&mut used[edge], true) {
                    continue;
                }
                waiting.push(edge);
                let there = other_end(edges[edge], here);
                if found[there] == 0 {
                    count += 1;
                    (found[there], earliest[there]) = (count, count);
                    way.push((there, edge));
                } else {
                    earliest[here] = earliest[here].min(found[there]);
                }
                continue;
            }
            way.pop();
            let Some(&(before, _)) = way.last() else { continue };
            earliest[before] = earliest[before].min(earliest[here]);
            if earliest[here] >= found[before] {
                while let Some(edge) = waiting.pop() {
                    block[edge] = Some(blocks);
                    if edge == by {
                        break;
                    }
                }
                blocks += 1;
            }
        }
    }
    block
}

/// The open edges at every node, but for those that join it to itself.
pub(super) fn edges_at(nodes: usize, edges: &[[usize; 2]], open: &[bool]) -> Vec<Vec<usize>> {
    let mut at = vec![Vec::new(); nodes];
    for (edge, &[a, b]) in edges.iter().enumerate() {
        if open[edge] && a != b {
            at[a].push(edge);
            at[b].push(edge);
        }
    }
    at
}

pub(super) fn other_end([a, b]: [usize; 2], here: usize) -> usize {
    if a == here { b } else { a }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_rings_that_share_a_node_are_two_blocks() {
        // 0-1-2-0, 2-3-4-2, 4-5, twice 5-6, 6-6.
        let edges = [[0, 1], [1, 2], [2, 0], [2, 3], [3, 4], [4, 2], [4, 5], [5, 6], [6, 5], [6, 6]];
        let block = blocks(7, &edges, &[true; 10]);
        assert!(block[0].is_some() && block[0] == block[1] && block[1] == block[2], "{block:?}");
        assert!(block[3] == block[4] && block[4] == block[5] && block[3] != block[0], "{block:?}");
        assert!(block[6] != block[5] && block[6] != block[7] && block[7] == block[8], "{block:?}");
        assert_eq!(block[9], None, "a node joined to itself");
    }

    #[test]
    fn a_shut_edge_breaks_its_ring() {
        let edges = [[0, 1], [1, 2], [2, 0]];
        let block = blocks(3, &edges, &[true, false, true]);
        assert!(block[1].is_none() && block[0] != block[2], "{block:?}");
    }
}
