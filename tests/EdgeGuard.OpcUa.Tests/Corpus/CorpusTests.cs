using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Tests.SecureChannel;
using EdgeGuard.OpcUa.Tests.Server;

namespace EdgeGuard.OpcUa.Tests.Corpus;

/// <summary>
/// What an independent client and an independent server said to each other is understood here: the same bytes mean the
/// same to both. And each input that once found a fault gets its right answer for ever.
/// </summary>
public sealed class CorpusTests
{
    [Fact]
    public void Every_recorded_request_is_decoded_as_what_it_is_and_keeps_its_meaning()
    {
        int decoded = 0;
        foreach (CorpusFile file in CorpusFolder.Requests)
        {
            StatusCode status = ServiceMessage.TryReadRequest(file.Bytes, UaLimits.Default, out IServiceRequest? request, out RequestHeader header);
            Assert.True(header.RequestHandle != 0 || status == StatusCode.Good, $"{file.Name}: no header");
            decoded += Judge(file, status, request, body => ServiceMessage.TryReadRequest(body, UaLimits.Default, out IServiceRequest? again, out _) == StatusCode.Good ? again : null);
        }

        Assert.True(decoded > 30, $"only {decoded} requests");
    }

    [Fact]
    public void Every_recorded_response_is_decoded_as_what_it_is_and_keeps_its_meaning()
    {
        int decoded = 0;
        foreach (CorpusFile file in CorpusFolder.Responses)
        {
            StatusCode status = ServiceMessage.TryReadResponse(file.Bytes, UaLimits.Default, out IServiceResponse? response);
            decoded += Judge(file, status, response, body => ServiceMessage.TryReadResponse(body, UaLimits.Default, out IServiceResponse? again) == StatusCode.Good ? again : null);
        }

        Assert.True(decoded > 30, $"only {decoded} responses");
    }

    [Fact]
    public void Recorded_frames_open_a_channel_and_no_other()
    {
        using var pair = new EnginePair(SecurityPolicy.None, MessageSecurityMode.None);
        Assert.Equal(ConnectionStep.NeedMore, pair.Server.Step(Frame("HEL-None-1"), pair.Now, out _));
        Assert.Equal(ConnectionStep.NeedMore, pair.Server.Step(Frame("OPN-None-1"), pair.Now, out _));
        Assert.Equal(ConnectionState.Open, pair.Server.State);

        // Channel and token are the other server's, so a message is for a channel that is not open here.
        Assert.Equal(ConnectionStep.Closed, pair.Server.Step(Frame("MSG-None-1"), pair.Now, out _));
        Assert.Equal(StatusCode.BadTcpSecureChannelUnknown, pair.Server.CloseStatus);
    }

    [Fact]
    public void Values_and_inputs_that_once_found_a_fault_are_read_or_refused_as_the_corpus_says()
    {
        Assert.True(CorpusFolder.Values.Count > 20);
        foreach (CorpusFile file in CorpusFolder.Values)
        {
            Assert.True(Enum.Parse<StatusCode>(file.Told("expect:")!) == ValueReader.Read(file.Type, file.Bytes, UaLimits.Default), file.Name);
        }
    }

    [Fact]
    public void Every_request_that_once_found_a_fault_is_answered_and_closes_nothing()
    {
        Assert.NotEmpty(CorpusFolder.FoundRequests);
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        foreach (CorpusFile file in CorpusFolder.FoundRequests)
        {
            Assert.Equal(StatusCode.Good, ServiceMessage.TryReadRequest(file.Bytes, UaLimits.Default, out IServiceRequest? request, out _));
            IServiceResponse answer = client.Ask(request!);
            Assert.True(Enum.Parse<StatusCode>(file.Told("expect:")!) == answer.ResponseHeader.ServiceResult, file.Name);
            Assert.False(client.Peer.IsClosed, file.Name);
        }
    }

    [Fact]
    public void Every_file_says_where_it_comes_from()
    {
        CorpusFile[] all = [.. CorpusFolder.Frames, .. CorpusFolder.Requests, .. CorpusFolder.Responses, .. CorpusFolder.Values, .. CorpusFolder.FoundRequests];
        Assert.All(all, static file => Assert.True(file.Comments.Count > 0 && file.Comments[0].Length > 20, file.Name));
    }

    private static byte[] Frame(string name) => [.. CorpusFolder.Frames.Single(file => file.Name == name).Bytes];

    // 1 when it was decoded: encoded and decoded again it must give the same bytes. What is not spoken here is refused as that.
    private static int Judge(CorpusFile file, StatusCode status, IUaStructure? message, Func<byte[], IUaStructure?> decode)
    {
        if (file.Type.StartsWith("type", StringComparison.Ordinal))
        {
            Assert.Equal(StatusCode.BadServiceUnsupported, status);
            return 0;
        }

        Assert.True(status == StatusCode.Good, $"{file.Name}: {status}");
        Assert.Equal(file.Type, message!.GetType().Name);
        byte[] written = Wire.Bytes(w => ServiceMessage.Write(w, message));
        IUaStructure again = decode(written) ?? throw new InvalidOperationException(file.Name + " does not come back");
        Assert.Equal(written, Wire.Bytes(w => ServiceMessage.Write(w, again)));
        return 1;
    }
}
